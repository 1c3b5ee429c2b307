using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>A task with the things rules need that a printed sheet doesn't.</summary>
/// <param name="Block">The statement, for places in the text.</param>
/// <param name="KeepBy">The name after keep highest or lowest, unresolved until measures are known.</param>
internal sealed record BoundTask(ProtocolTask Task, TaskBlock Block, Word? KeepBy, SourceText KeepSource);

/// <summary>Expands families and sides into tasks as they stand on cards.</summary>
internal sealed class TaskBinder(
    Declarations declared,
    VocabularyBinder vocabulary,
    IReadOnlyDictionary<string, Section> sections,
    DiagnosticBag diagnostics
)
{
    private readonly ResponseBinder _responses = new(vocabulary, declared, diagnostics);

    public BoundTask? Bind(TaskBlock block, SectionBlock? section)
    {
        var (family, inside) = Family(block);
        if (block.Use is not null && family is null)
        {
            // Its answers are unknown, and so nothing about them can be said.
            declared.Values.Forgive(block.Name.Text);
            return null;
        }

        var outside = Environment.Empty(diagnostics);
        var body = new TaskBody(block, family, diagnostics);
        Environment Of(bool own) => own ? outside : inside;
        var home = section is null ? null : sections.GetValueOrDefault(section.Name.Text);
        var qualitative = home?.Qualitative ?? false;
        var responses = Responses(block, body, Of, qualitative);
        var trials = Trials(block, body, Of, responses, out var keepBy, out var keepSource);
        var kind = KindOf(block.Each);
        var words = WordsFor(kind);
        var task = new ProtocolTask
        {
            Name = block.Name.Text,
            Title = block.Title?.Text ?? Names.ToTitle(block.Name.Text),
            Number = 0,
            Section = home,
            ShortForm = block.ShortForm,
            Contact = ContactOf(body, Of),
            Materials = Materials(body, Of),
            Go = Only(body, TextLineKind.Go, Of, words),
            Practice = Only(body, TextLineKind.Practice, Of, words),
            Repeat = Only(body, TextLineKind.Repeat, Of, words),
            Note = Only(body, TextLineKind.Note, Of, words),
            StopWhen = All(body, TextLineKind.StopWhen, Of, words),
            Hold = Hold(body, Of),
            VariantKind = kind,
            Variants = Variants(block, kind, body, Of),
            Trials = trials,
            Responses = responses,
            Ticks = Ticks(body, Of, qualitative),
            Help = Help(body, Of),
            Origin = block.Source.OriginOf(block.Name.Place),
        };
        return new BoundTask(task, block, keepBy, keepSource);
    }

    private (FamilyBlock?, Environment) Family(TaskBlock block)
    {
        if (block.Use is not { } use || declared.Families.Require(use.Family, block.Source) is not { } family)
        {
            return (null, Environment.Empty(diagnostics));
        }

        var arguments = new Dictionary<string, Argument>(StringComparer.Ordinal);
        var needed = family.Parameters.Count(p => p.Default is null);
        if (use.Arguments.Count < needed || use.Arguments.Count > family.Parameters.Count)
        {
            var wanted = family.Parameters.Count == 0 ? "nothing" : string.Join(", ", family.Parameters.Select(p => p.Name.Text));
            diagnostics.Report(
                block.Source,
                use.Family.Place,
                NameMessages.Arguments(family.Name.Text, use.Arguments.Count, wanted)
            );
            return (null, Environment.Empty(diagnostics));
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

    private List<Response> Responses(TaskBlock block, TaskBody body, Func<bool, Environment> of, bool qualitative)
    {
        var responses = new List<Response>();
        foreach (var (line, own) in body.Of<ResponseLine>())
        {
            if (_responses.Bind(line, of(own), qualitative) is { } response)
            {
                responses.Add(response);
            }
            else
            {
                declared.Values.Forgive(block.Name.Text);
            }
        }

        return responses;
    }

    private TrialPlan Trials(
        TaskBlock block,
        TaskBody body,
        Func<bool, Environment> of,
        List<Response> responses,
        out Word? keepBy,
        out SourceText keepSource
    )
    {
        keepBy = null;
        keepSource = block.Source;
        var (line, own) = body.Of<TrialsLine>().FirstOrDefault();
        if (line is null)
        {
            return new TrialPlan(1, Keep.Only, null, null);
        }

        keepSource = line.Source;
        var environment = of(own);
        if (environment.Number(line.Count, line.Source) is not { } count)
        {
            return new TrialPlan(1, Keep.Only, null, null);
        }

        if (!count.IsInteger || count < 1 || count > 50)
        {
            Report(line, line.Count.Place, MeaningMessages.Number($"A task can't have {count} trials.", "Write a whole number from 1 to 50."));
            return new TrialPlan(1, Keep.Only, null, null);
        }

        var trials = (int)count.Numerator;
        if (trials > 1 && line.Keep is null)
        {
            Report(line, line.Place, MeaningMessages.Trials("Nothing says which of these trials counts.", "Add, for example, keep highest rate, or keep first."));
            return new TrialPlan(trials, Keep.First, null, null);
        }

        var isBroken = declared.Values.IsBroken(block.Name.Text);
        keepBy = line.Keep?.By is { } by ? environment.Name(by, line.Source) : null;
        var keep = trials == 1 ? Keep.Only : Enum.Parse<Keep>(line.Keep!.How.Text, ignoreCase: true);
        return new TrialPlan(trials, keep, keepBy?.Text, Further(line, environment, responses, trials, isBroken));
    }

    private FurtherTrial? Further(
        TrialsLine line,
        Environment environment,
        List<Response> responses,
        int trials,
        bool isBroken
    )
    {
        if (line.Second is not { } second)
        {
            if (line.UpTo)
            {
                Report(line, line.Place, MeaningMessages.Trials("Nothing says when a further trial is given.", "Add, for example, second when rate below 2."));
            }

            return null;
        }

        if (!line.UpTo || trials != 2)
        {
            Report(line, second.Response.Place, MeaningMessages.Trials("A second trial on a condition goes with trials up to 2.", "Write trials up to 2, second when …"));
            return null;
        }

        var name = environment.Name(second.Response, line.Source);
        var response = responses.Find(r => r.Name == name.Text);
        if (response is null || environment.Number(second.Below, line.Source) is not { } below)
        {
            // Where an answer of the task is broken, this may be the one.
            if (response is null && !isBroken)
            {
                Report(line, name.Place, NameMessages.Part("this task", name.Text, [.. responses.Select(r => r.Name)]));
            }

            return null;
        }

        if (response.HasOptions)
        {
            Report(line, name.Place, MeaningMessages.NotANumber(name.Text));
            return null;
        }

        return new FurtherTrial(name.Text, below);
    }

    private Contact ContactOf(TaskBody body, Func<bool, Environment> of)
    {
        var (line, own) = body.Of<ContactLine>().FirstOrDefault();
        return line is null
            ? Contact.None
            : vocabulary.ContactOf(of(own).Name(line.Contact, line.Source), line.Source) ?? Contact.None;
    }

    private List<Material> Materials(TaskBody body, Func<bool, Environment> of)
    {
        var materials = new List<Material>();
        foreach (var (line, own) in body.Of<NeedsLine>())
        {
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
        var ticks = new List<Tick>();
        foreach (var (line, own) in body.Of<TickLine>())
        {
            foreach (var word in line.Observations)
            {
                var name = of(own).Name(word, line.Source);
                if (declared.Observations.Require(name, line.Source) is null || ticks.Exists(t => t.Observation.Name == name.Text))
                {
                    continue;
                }

                var observation = vocabulary.Observations[name.Text];
                ticks.Add(new Tick(observation, qualitative || line.Qualitative || observation.Qualitative));
            }
        }

        return ticks;
    }

    private List<HelpRung> Help(TaskBody body, Func<bool, Environment> of)
    {
        var rungs = new List<HelpRung>();
        foreach (var (line, own) in body.Of<HelpLine>())
        {
            foreach (var rung in line.Rungs)
            {
                var contact = rung.Contact is null
                    ? Contact.None
                    : vocabulary.ContactOf(of(own).Name(rung.Contact, line.Source), line.Source) ?? Contact.None;
                rungs.Add(new HelpRung(rung.Text, contact));
            }
        }

        return rungs;
    }

    private static string? Hold(TaskBody body, Func<bool, Environment> of)
    {
        var (line, own) = body.Of<HoldLine>().FirstOrDefault();
        return line is null || of(own).Number(line.Number, line.Source) is not { } number
            ? null
            : $"{number} {line.Unit.Text}";
    }

    private static string? Only(
        TaskBody body,
        TextLineKind kind,
        Func<bool, Environment> of,
        IReadOnlyDictionary<string, string> words
    ) => All(body, kind, of, words).FirstOrDefault();

    private static List<string> All(
        TaskBody body,
        TextLineKind kind,
        Func<bool, Environment> of,
        IReadOnlyDictionary<string, string> words
    ) => [.. body.Texts(kind).Select(t => of(t.Own).Text(t.Line.Text, t.Line.Source, words))];

    private List<Variant> Variants(TaskBlock block, VariantKind kind, TaskBody body, Func<bool, Environment> of)
    {
        var members = block.Each?.Members ?? [new EachMember(new Word("", block.Name.Place), null)];
        var variants = new List<Variant>();
        foreach (var member in members)
        {
            var name = member.Name.Text;
            if (variants.Exists(v => v.Name == name))
            {
                Report(block, member.Name.Place, NameMessages.Twice(block.Each!.Kind.Text, name));
                continue;
            }

            if (kind == VariantKind.Side && name is not ("right" or "left"))
            {
                Report(block, member.Name.Place, NameMessages.Unknown("side", name, Suggest.Nearest(name, ["left", "right"])));
                continue;
            }

            var text = member.Text?.Text ?? Names.ToWords(name);
            var words = new Dictionary<string, string>(StringComparer.Ordinal);
            if (kind != VariantKind.None)
            {
                words[KeyOf(kind)] = text;
            }

            variants.Add(
                new Variant(name, text, All(body, TextLineKind.Say, of, words), All(body, TextLineKind.Show, of, words))
            );
        }

        return variants.Count > 0 ? variants : [new Variant("", "", [], [])];
    }

    private static VariantKind KindOf(EachClause? each) =>
        each is null ? VariantKind.None : Enum.Parse<VariantKind>(each.Kind.Text, ignoreCase: true);

    private static string KeyOf(VariantKind kind) => kind.ToString().ToLowerInvariant();

    /// <summary>Where one text serves all sides, the placeholder reads “each side”.</summary>
    private static Dictionary<string, string> WordsFor(VariantKind kind) =>
        kind == VariantKind.None ? [] : new() { [KeyOf(kind)] = $"each {KeyOf(kind)}" };

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
