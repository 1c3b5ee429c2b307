using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says the kept answers task by task, with the trial kept, the help used and the note.</summary>
internal static class AnswerSentences
{
    public static List<Explained> All(ScoredRecord scored) =>
        [
            .. Parts(scored)
                .Where(p => p.Any(k => k.State != State.NotApplicable && k.Giving == Giving.Given))
                .Select(p => new Explained(p.First().Lines.Key, Sentence(scored, [.. p]))),
        ];

    /// <summary>Each part that has an untried answer, with its reason.</summary>
    public static List<Explained> Untried(ScoredRecord scored) =>
        [
            .. Parts(scored)
                .SelectMany(p => p.Where(k => k.State.IsUntried()).DistinctBy(k => k.State))
                .Select(k => new Explained(k.Lines.Key, $"{Part(k)}: {k.State.ToWords()}.")),
        ];

    /// <summary><c>second trial kept</c>; nothing where only one trial was given.</summary>
    public static string KeptTrial(ScoredRecord scored, KeptResult kept)
    {
        var plan = kept.Lines.Task.Trials;
        if (plan.IsCombined && kept.State == State.Known)
        {
            var word = plan.Keep.ToString().ToLowerInvariant();
            return $"{word} of {Say.Count(Tried(scored, kept), "trial", "trials")}";
        }

        return kept.Trial == 0 || Given(scored, kept) < 2 ? "" : $"{Say.Ordinal(kept.Trial)} trial kept";
    }

    private static IEnumerable<IGrouping<string, KeptResult>> Parts(ScoredRecord scored) =>
        scored.Kept.OrderBy(k => k.Lines.Task.Number).GroupBy(Part);

    private static string Part(KeptResult kept) => PartNames.Of(kept.Lines.Task, kept.Lines.Variant);

    private static string Sentence(ScoredRecord scored, List<KeptResult> part)
    {
        var first = part[0];
        var answers = string.Concat(part.Select((k, i) => Answer(k, i > 0)));
        var trial = KeptTrial(scored, first) is { Length: > 0 } kept ? $" ({kept})" : "";
        return $"{Part(first)}: {answers}{trial}{HelpSentences.Of(scored, part)}{Note(scored, first)}";
    }

    private static string Answer(KeptResult kept, bool isFurther)
    {
        var text = kept.State == State.Known ? kept.Text().TrimEnd('.') : kept.State.ToWords();
        var isBare = !isFurther || kept.Lines.Response.IsNumber;
        var joint = isFurther ? (isBare ? ", " : "; ") : "";
        return isBare
            ? joint + text
            : joint + $"{Names.ToWords(kept.Lines.Response.Name)}: {Say.Inside(text)}";
    }

    /// <summary>How many trials were given: a second one that wasn't needed is no trial to choose from.</summary>
    private static int Given(ScoredRecord scored, KeptResult kept) =>
        scored.Protocol.Program.Answers.Count(s =>
            s.Task == kept.Lines.Task
            && s.Variant == kept.Lines.Variant
            && s.Response == kept.Lines.Response
            && scored.Record.Fields[s.StateField] != (long)State.NotApplicable
        );

    private static int Tried(ScoredRecord scored, KeptResult kept) =>
        scored.Protocol.Program.Answers.Count(s =>
            s.Task == kept.Lines.Task
            && s.Variant == kept.Lines.Variant
            && scored.Record.Fields[s.StateField] == (long)State.Known
        );

    private static string Note(ScoredRecord scored, KeptResult kept)
    {
        var notes = new[] { kept.Lines.Task.Name, Key(kept) }
            .Distinct()
            .Where(scored.Record.Notes.ContainsKey)
            .Select(k => scored.Record.Notes[k].ReplaceLineEndings(" "));
        return string.Concat(notes.Select(n => $"; note: {n}")) is { Length: > 0 } text ? text : ".";
    }

    internal static string Key(KeptResult kept) =>
        kept.Lines.Variant.Name.Length == 0
            ? kept.Lines.Task.Name
            : $"{kept.Lines.Task.Name}.{kept.Lines.Variant.Name}";
}
