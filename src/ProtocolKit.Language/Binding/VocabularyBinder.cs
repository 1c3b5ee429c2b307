using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>Scales, observations, materials, cautions and bands: the words the tasks are made of.</summary>
internal sealed class VocabularyBinder
{
    private static readonly Rational MostPoints = 1_000_000;
    private static readonly Rational SmallestStep = new(1, 1_000_000);
    private readonly Declarations _declared;
    private readonly DiagnosticBag _diagnostics;

    public VocabularyBinder(Declarations declared, DiagnosticBag diagnostics)
    {
        _declared = declared;
        _diagnostics = diagnostics;
        Scales = declared
            .Scales.Values.Select(Scale)
            .OfType<Scale>()
            .ToDictionary(s => s.Name, StringComparer.Ordinal);
        Observations = declared
            .Observations.Values.Select(o => new Observation(
                o.Name.Text,
                o.Text.Text,
                o.Qualitative,
                At(o, o.Name)
            ))
            .ToDictionary(o => o.Name, StringComparer.Ordinal);
        Materials = declared
            .Materials.Values.Select(m => new Material(
                m.Name.Text,
                m.Text.Text,
                m.Amount?.Text,
                At(m, m.Name)
            ))
            .ToDictionary(m => m.Name, StringComparer.Ordinal);
        Cautions = [.. declared.Cautions.Values.Select(Caution)];
    }

    public IReadOnlyDictionary<string, Scale> Scales { get; }
    public IReadOnlyDictionary<string, Observation> Observations { get; }
    public IReadOnlyDictionary<string, Material> Materials { get; }
    public IReadOnlyList<Caution> Cautions { get; }

    public static Origin At(Statement statement, Word name) => statement.Source.OriginOf(name.Place);

    /// <summary>A band by the name in a table's heading; its text is the declared one or the name's words.</summary>
    public Band Band(string name) => new(name, _declared.Bands.Find(name)?.Text.Text ?? Names.ToTitle(name));

    /// <summary>The contact a word names, or null after reporting.</summary>
    public Contact? ContactOf(Word word, SourceText source)
    {
        switch (word.Text)
        {
            case "none":
                return Contact.None;
            case "face":
                return Contact.Face;
            case "mouth":
                return Contact.Mouth;
            default:
                _diagnostics.Report(
                    source,
                    word.Place,
                    NameMessages.UnknownOf("contact", word.Text, ["none", "face", "mouth"])
                );
                return null;
        }
    }

    private Scale? Scale(ScaleBlock block)
    {
        if (block.Incomplete)
        {
            return null;
        }

        if (block.Levels.Count == 0)
        {
            Report(
                block,
                block.Name,
                MeaningMessages.Missing(
                    $"The scale {block.Name.Text} has no levels.",
                    "Write a line a level under it: the points, then the text in quotes."
                )
            );
            return null;
        }

        var levels = new List<Level>();
        foreach (var line in block.Levels)
        {
            var points = line.Points.Number!.Value;
            if (levels.Exists(l => l.Points == points))
            {
                var first = block.Levels.First(l => l.Points.Number == points);
                _diagnostics.Clash(line.At, first.At, MeaningMessages.LevelTwice(points));
                continue;
            }

            levels.Add(new Level(points, line.Text.Text, line.Example?.Text));
        }

        var step = levels.Aggregate(Rational.One, (s, l) => Rational.CommonStep(s, l.Points));
        if (
            levels.Exists(l => Rational.Zero - l.Points > MostPoints || l.Points > MostPoints)
            || !step.TryCountSteps(SmallestStep, out _)
        )
        {
            Report(block, block.Name, NumberMessages.Points());
            return null;
        }

        return new Scale(
            block.Name.Text,
            BetterOf(block.Better),
            [.. levels.OrderByDescending(l => l.Points)],
            At(block, block.Name)
        )
        {
            Step = step,
        };
    }

    public static Better BetterOf(Word word) =>
        word.Text switch
        {
            "higher" => Better.Higher,
            "lower" => Better.Lower,
            _ => Better.Middle,
        };

    private Caution Caution(CautionBlock block)
    {
        var contacts = new List<Contact>();
        var materials = new List<string>();
        foreach (var cover in block.Covers)
        {
            foreach (var name in cover.Names)
            {
                if (cover.IsContact && ContactOf(name, cover.Source) is { } contact)
                {
                    contacts.Add(contact);
                }
                else if (!cover.IsContact && _declared.Materials.Require(name, cover.Source) is not null)
                {
                    materials.Add(name.Text);
                }
            }
        }

        return new Caution(block.Name.Text, block.Text.Text, contacts, materials, At(block, block.Name));
    }

    private void Report(Statement statement, Word? name, Message message) =>
        _diagnostics.Report(statement.Source, name?.Place ?? statement.Place, message);
}
