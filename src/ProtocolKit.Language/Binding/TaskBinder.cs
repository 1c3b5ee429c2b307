using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>A task with the things rules need that a printed sheet doesn't.</summary>
/// <param name="Block">The statement, for places in the text.</param>
/// <param name="KeepBy">The name after keep highest or lowest, unresolved until measures are known.</param>
internal sealed record BoundTask(ProtocolTask Task, TaskBlock Block, Word? KeepBy, SourceText KeepSource)
{
    /// <summary>Its own skips; those of its section stand there.</summary>
    public IReadOnlyList<SkipLine> Skips { get; init; } = [];
}

/// <summary>Expands families and sides into tasks as they stand on cards.</summary>
internal sealed class TaskBinder(
    Declarations declared,
    VocabularyBinder vocabulary,
    IReadOnlyDictionary<string, Section> sections,
    WorkLimit work,
    DiagnosticBag diagnostics
)
{
    private readonly ResponseBinder _responses = new(vocabulary, declared, diagnostics);
    private readonly TrialBinder _trials = new(declared, diagnostics);
    private readonly HelpBinder _help = new(vocabulary, diagnostics);
    private readonly VariantBinder _variants = new(diagnostics);
    private static readonly Dictionary<string, string> NoWords = [];
    private readonly HashSet<string> _taken = new(StringComparer.Ordinal);
    private readonly HashSet<FamilyBlock> _used = new(ReferenceEqualityComparer.Instance);
    private readonly Environment _outside = Environment.Empty(diagnostics);

    /// <param name="number">Its place in the giving order, as far as that is the file's.</param>
    public BoundTask? Bind(TaskBlock block, SectionBlock? section, int number)
    {
        var (family, inside) = Family(block);
        if (block.Use is not null && family is null)
        {
            // Its answers are unknown, and so nothing about them can be said.
            declared.Values.Forgive(block.Name.Text);
            return null;
        }

        var lines = block.Body.Count + (family?.Body.Count ?? 0);
        var members = block.Each?.Members.Count ?? 1;
        if (!work.Spend(lines + members, block.Source, block.Name.Place))
        {
            declared.Values.Forgive(block.Name.Text);
            return null;
        }

        var body = new TaskBody(block, family, diagnostics);
        if (family is not null && _used.Add(family))
        {
            TaskBody.CheckOnce(family, diagnostics);
        }

        Func<bool, Environment> of = own => own ? _outside : inside;
        var home = section is null ? null : sections.GetValueOrDefault(section.Name.Text);
        var qualitative = home?.Qualitative ?? false;
        if (block.Incomplete || family is { Incomplete: true })
        {
            declared.Values.Forgive(block.Name.Text);
        }

        var responses = Responses(block, body, of, qualitative);
        var trials = _trials.Bind(block, body, of, responses, out var keepBy, out var keepSource);
        if (
            !work.Spend(
                (long)members * (lines + (responses.Count * trials.Count)),
                block.Source,
                block.Name.Place
            )
        )
        {
            declared.Values.Forgive(block.Name.Text);
            return null;
        }

        var kind = KindOf(block.Each);
        var words = WordsFor(kind);
        var task = new ProtocolTask
        {
            Name = block.Name.Text,
            Title = block.Title?.Text ?? Names.ToTitle(block.Name.Text),
            Number = number,
            Section = home,
            ShortForm = block.ShortForm,
            Contact = ContactOf(body, of),
            Materials = Materials(body, of),
            Go = Only(body.Texts(TextLineKind.Go, of, words)),
            Practice = Only(body.Texts(TextLineKind.Practice, of, words)),
            Repeat = Only(body.Texts(TextLineKind.Repeat, of, words)),
            Note = Only(body.Texts(TextLineKind.Note, of, words)),
            StopWhen = body.Texts(TextLineKind.StopWhen, of, words),
            Hold = Hold(body, of),
            VariantKind = kind,
            Variants = _variants.Bind(block, kind, body, of),
            Trials = trials,
            Responses = responses,
            Ticks = Ticks(body, of, qualitative),
            Help = _help.Bind(block, body, of, responses, trials),
            SensesTouch = body.First<SensesLine>().Line is not null,
            Skips = [.. body.Of<SkipLine>().Select(l => RoutingBinder.Skip(l.Line))],
            Origin = block.Source.OriginOf(block.Name.Place),
        };
        CheckNames(task, block);
        return new BoundTask(task, block, keepBy, keepSource)
        {
            Skips = [.. body.Of<SkipLine>().Select(l => l.Line)],
        };
    }

    /// <summary>After a task's name come its answers, observations and sides, so they may not share names.</summary>
    private void CheckNames(ProtocolTask task, TaskBlock block)
    {
        _taken.Clear();
        foreach (var response in task.Responses)
        {
            Take(response.Name);
        }

        foreach (var tick in task.Ticks)
        {
            Take(tick.Observation.Name);
        }

        foreach (var variant in task.Variants)
        {
            Take(variant.Name);
        }

        void Take(string name)
        {
            if (name.Length > 0 && !_taken.Add(name))
            {
                Report(block, block.Name.Place, NameMessages.Shared(task.Name, name));
            }
        }
    }

    private (FamilyBlock?, Environment) Family(TaskBlock block)
    {
        if (block.Use is not { } use || declared.Families.Require(use.Family, block.Source) is not { } family)
        {
            return (null, _outside);
        }

        var arguments = new Dictionary<string, Argument>(StringComparer.Ordinal);
        var needed = family.Parameters.Count(p => p.Default is null);
        if (use.Arguments.Count < needed || use.Arguments.Count > family.Parameters.Count)
        {
            var wanted = string.Join(", ", family.Parameters.Select(p => p.Name.Text));
            var found = use.Arguments.Count switch
            {
                0 => "nothing",
                1 => "1 thing",
                var n => $"{n} things",
            };
            diagnostics.Report(
                block.Source,
                use.Family.Place,
                NameMessages.Arguments(family.Name.Text, found, wanted)
            );
            return (null, _outside);
        }

        for (var i = 0; i < family.Parameters.Count; i++)
        {
            var argument = i < use.Arguments.Count ? use.Arguments[i] : family.Parameters[i].Default;
            if (argument is not null)
            {
                arguments[family.Parameters[i].Name.Text] = argument;
            }
        }

        return (family, new Environment(arguments, diagnostics));
    }

    private List<Response> Responses(
        TaskBlock block,
        TaskBody body,
        Func<bool, Environment> of,
        bool qualitative
    )
    {
        var lines = body.Of<ResponseLine>();
        var responses = new List<Response>(lines.Count);
        var names = new Dictionary<string, ResponseLine>(lines.Count, StringComparer.Ordinal);
        foreach (var (line, own) in lines)
        {
            if (_responses.Bind(line, of(own), qualitative) is not { } response)
            {
                declared.Values.Forgive(block.Name.Text);
            }
            else if (!names.TryAdd(response.Name, line))
            {
                ReportTwice(line, names[response.Name], response.Name);
            }
            else
            {
                responses.Add(response);
            }
        }

        return responses;
    }

    /// <summary>A family's name and the task's own may turn out the same; the same line twice was told already.</summary>
    private void ReportTwice(ResponseLine line, ResponseLine first, string name)
    {
        if (!diagnostics.HasErrorOn(line.Source, line.Place.Line))
        {
            diagnostics.Clash(NameAt(line), NameAt(first), NameMessages.Twice("answer of this task", name));
        }
    }

    private static (SourceText, Place) NameAt(ResponseLine line) =>
        (line.Source, line.Name?.Place ?? line.Keyword.Place);

    private Contact ContactOf(TaskBody body, Func<bool, Environment> of)
    {
        var (line, own) = body.First<ContactLine>();
        return line is null
            ? Contact.None
            : vocabulary.ContactOf(of(own).Name(line.Contact, line.Source), line.Source) ?? Contact.None;
    }

    private List<Material> Materials(TaskBody body, Func<bool, Environment> of)
    {
        List<Material> materials = [];
        foreach (var (line, own) in body.Of<NeedsLine>())
        {
            materials.EnsureCapacity(materials.Count + line.Materials.Count);
            foreach (var word in line.Materials)
            {
                var name = of(own).Name(word, line.Source);
                if (declared.Materials.Require(name, line.Source) is not null)
                {
                    materials.Add(vocabulary.Materials[name.Text]);
                }
            }
        }

        return materials;
    }

    private List<Tick> Ticks(TaskBody body, Func<bool, Environment> of, bool qualitative)
    {
        List<Tick> ticks = [];
        foreach (var (line, own) in body.Of<TickLine>())
        {
            ticks.EnsureCapacity(ticks.Count + line.Observations.Count);
            foreach (var word in line.Observations)
            {
                var name = of(own).Name(word, line.Source);
                if (
                    declared.Observations.Require(name, line.Source) is null
                    || ticks.Exists(t => t.Observation.Name == name.Text)
                )
                {
                    continue;
                }

                var observation = vocabulary.Observations[name.Text];
                ticks.Add(new Tick(observation, qualitative || line.Qualitative || observation.Qualitative));
            }
        }

        return ticks;
    }

    private static string? Hold(TaskBody body, Func<bool, Environment> of)
    {
        var (line, own) = body.First<HoldLine>();
        return line is null || of(own).Number(line.Number, line.Source) is not { } number
            ? null
            : $"{number} {line.Unit.Text}";
    }

    private static string? Only(IReadOnlyList<string> texts) => texts is [var first, ..] ? first : null;

    private static VariantKind KindOf(EachClause? each) =>
        each is null ? VariantKind.None : Enum.Parse<VariantKind>(each.Kind.Text, ignoreCase: true);

    public static string KeyOf(VariantKind kind) => kind.ToString().ToLowerInvariant();

    /// <summary>Where one text serves all sides, the placeholder reads “each side”.</summary>
    private static Dictionary<string, string> WordsFor(VariantKind kind) =>
        kind == VariantKind.None ? NoWords : new() { [KeyOf(kind)] = $"each {KeyOf(kind)}" };

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
