using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>The values of a sitting as rows of a table, and as one sentence.</summary>
internal static class NoteScores
{
    /// <summary>Those with cut-offs at the child's age.</summary>
    public static List<NoteScore> Of(ScoredRecord scored) =>
        [.. Told(scored).Where(o => BandOf(scored, o) is not null).Select(o => Row(scored, o))];

    /// <summary>The others, such as the parts of a total: <c>First pair: 2</c>.</summary>
    public static List<string> Besides(ScoredRecord scored) =>
        [
            .. Told(scored)
                .Where(o => BandOf(scored, o) is null)
                .Select(o => $"{o.Outcome.Title}: {Value(o)}{Why(scored, o)}."),
        ];

    /// <summary><c>Jaw 8 of 0 to 12, as expected (provisional); Lips …</c>: values with cut-offs alone.</summary>
    public static string InWords(ScoredRecord scored) =>
        string.Join(
            "; ",
            Told(scored)
                .Where(o => BandOf(scored, o)?.Row is not null)
                .Select(o => $"{o.Outcome.Title} {Says(scored, o)}")
        );

    /// <summary>Value, band and whether it is provisional, to stand after the title.</summary>
    public static string Says(ScoredRecord scored, OutcomeResult result)
    {
        var band = Band(result, BandOf(scored, result));
        return band.Length == 0 ? Value(result) : $"{Value(result)}, {band}";
    }

    /// <summary>What applies in the form that was used.</summary>
    public static IEnumerable<OutcomeResult> Told(ScoredRecord scored)
    {
        var told = new OutcomeSentences(scored).All().Select(e => e.Name).ToHashSet(StringComparer.Ordinal);
        return scored.Outcomes.Where(o => told.Contains(o.Outcome.Name));
    }

    public static BandResult? BandOf(ScoredRecord scored, OutcomeResult result) =>
        OutcomeSentences.BandOf(scored, result.Outcome);

    private static string Why(ScoredRecord scored, OutcomeResult result) =>
        Missing(scored, result) is { Length: > 0 } missing ? $" ({missing})" : "";

    private static NoteScore Row(ScoredRecord scored, OutcomeResult result)
    {
        var band = BandOf(scored, result);
        var basis = band?.Row is { } row ? BandSentences.Basis(band.Table, row) : "";
        return new(result.Outcome.Title, Value(result), Missing(scored, result), Plain(result, band), basis);
    }

    private static string Value(OutcomeResult result) =>
        result.State != State.Known ? $"no value ({result.State.ToWords()})"
        : result.IsExact ? AnswerText.WithUnit(result.Low, result.Outcome.Unit)
        : $"between {result.Low} and {AnswerText.WithUnit(result.High, result.Outcome.Unit)}";

    private static string Band(OutcomeResult result, BandResult? band) =>
        Plain(result, band) + (band?.Row is null ? "" : Provisional(band));

    private static string Plain(OutcomeResult result, BandResult? band) =>
        band is null ? ""
        : band.Row is null ? "no cut-offs at this age"
        : band.State switch
        {
            BandState.Known => BandSentences.Name(band.Band!),
            BandState.Undecided => $"undecided: {Say.List(Possible(result, band), "or")}",
            _ => "no band",
        };

    /// <summary>Value and band as two short lines.</summary>
    public static (string Value, string Band) Short(ScoredRecord scored, OutcomeResult result)
    {
        var band = BandOf(scored, result);
        return (Value(result), band is { State: BandState.Undecided } ? "undecided" : Band(result, band));
    }

    private static IEnumerable<string> Possible(OutcomeResult result, BandResult band) =>
        band
            .Table.Bands.Where(
                (_, i) => band.Row!.Cells[i] is { } cell && cell.From <= result.High && result.Low <= cell.To
            )
            .Select(BandSentences.Name);

    private static string Provisional(BandResult band) =>
        band.Table.Basis.IsProvisional ? " (provisional)" : "";

    private static string Missing(ScoredRecord scored, OutcomeResult result)
    {
        if (result.IsExact && result.Untried.Count == 0)
        {
            return "";
        }

        var (answers, observations) = FormulaNames.Of(scored.Protocol.Program, result.Outcome);
        var keys = answers.Select(a => a.Key).ToHashSet(StringComparer.Ordinal);
        var parts = PartNames.Untried(scored.Kept.Where(k => keys.Contains(k.Lines.Key)));
        var notLooked = Sources
            .Given(scored, observations)
            .Count(o => scored.Record.Fields[o.Field] == Sources.NotLooked);
        var signs = notLooked == 0 ? "" : $"{Say.Count(notLooked, "sign", "signs")} not looked for";
        return Say.List(new[] { parts, signs }.Where(t => t.Length > 0));
    }
}
