using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says each measure and score: its value, what is missing from it, its band, and what it was made from.</summary>
internal sealed class OutcomeSentences
{
    private readonly ScoredRecord _scored;
    private readonly Dictionary<string, KeptResult> _kept;
    private readonly Sources _sources;

    public OutcomeSentences(ScoredRecord scored)
    {
        _scored = scored;
        _kept = scored.Kept.ToDictionary(k => k.Lines.Key, StringComparer.Ordinal);
        _sources = new Sources(scored);
    }

    public List<Explained> All()
    {
        var left = _scored.Outcomes.Where(IsLeftOut).ToList();
        var sentences = _scored.Outcomes.Except(left).Select(Sentence).ToList();
        if (left.Count > 0)
        {
            var why = _scored.Record.IsShortForm ? "Not part of the short form" : "Not applicable";
            sentences.Add(new Explained("", $"{why}: {Say.List(left.Select(o => o.Outcome.Title))}."));
        }

        return sentences;
    }

    /// <summary>
    /// True where a value doesn't apply, or is a bare default: it has no cut-offs in the form in use, and of all it
    /// rests on nothing belongs to that form.
    /// </summary>
    private bool IsLeftOut(OutcomeResult result)
    {
        if (result.State == State.NotApplicable)
        {
            return true;
        }

        var (answers, observations) = FormulaNames.Of(_scored.Protocol.Program, result.Outcome);
        return _scored.Record.IsShortForm
            && BandOf(_scored, result.Outcome) is null
            && answers.Count + observations.Count > 0
            && answers.All(k => _kept[k.Key].State == State.NotApplicable)
            && !Sources.Given(_scored, observations).Any();
    }

    /// <summary>The table of the form in use with its band, where the value has cut-offs.</summary>
    internal static BandResult? BandOf(ScoredRecord scored, Outcome outcome) =>
        scored.Bands.FirstOrDefault(b =>
            b.Table.Outcome.Name == outcome.Name && b.Table.ShortForm == scored.Record.IsShortForm
        );

    internal static bool IsSum(Outcome outcome) =>
        outcome.Formula.StartsWith("add up", StringComparison.Ordinal);

    private Explained Sentence(OutcomeResult result)
    {
        var (answers, observations) = FormulaNames.Of(_scored.Protocol.Program, result.Outcome);
        var kept = answers.Select(k => _kept[k.Key]).ToList();
        var missing = Missing(kept, observations);
        var band = BandOf(_scored, result.Outcome);
        var value =
            result.State != State.Known
                ? $"no value, {(missing.Length == 0 ? result.State.ToWords() : missing)}"
            : result.IsExact ? Value(result.Outcome, result.Low, Top(result, kept, band))
            : Bounded(result, Top(result, kept, band), missing);
        var from =
            result.Weaker is not null ? SideSentences.Of(_scored, result)
            : result.Outcome.Table is { } table ? LookedUp(result, table)
            : result.IsExact ? _sources.Of(result, kept, observations) + ScaledUp(result, missing)
            : "";
        var banded = BandSentences.Of(result, band, _scored.Age);
        return new Explained(result.Outcome.Name, $"{result.Outcome.Title}: {value}{banded}.{from}");
    }

    /// <summary>What was looked up, in which column, and what the table rests on.</summary>
    private string LookedUp(OutcomeResult result, LookupTable table)
    {
        var raw = _scored.Outcomes.First(o => o.Outcome.Name == table.Of);
        var at = table.Ages.Where(a => a.Contains(_scored.Age)).ToList();
        if (result.State != State.Known || at.Count == 0)
        {
            return "";
        }

        var value = raw.IsExact
            ? AnswerText.WithUnit(raw.Low, table.OfUnit)
            : $"{raw.Low} to {AnswerText.WithUnit(raw.High, table.OfUnit)}";
        var basis = table.Basis.IsProvisional ? ", provisional" : $", {Say.Inside(table.Basis.Text)}";
        return $" Looked up for {table.OfTitle} {value} in the table for {at[0]}{basis}.";
    }

    /// <summary>Where untried parts were made up for: from how many points of how many, and why.</summary>
    private string ScaledUp(OutcomeResult result, string missing)
    {
        var lines = _scored.Protocol.Program.Outcomes.First(o => o.Outcome == result.Outcome);
        if (lines.ScaledUp is not { } scaled || _scored.Lines[scaled.UntriedLine] == 0)
        {
            return "";
        }

        var points = _scored.Lines[scaled.PointsLine] * lines.Scale;
        var most = _scored.Lines[scaled.MostLine] * lines.Scale;
        var why = missing.Length == 0 ? "a part is not known" : missing;
        return $" Scaled up from {points} of {most} in the parts that were tried: {why}.";
    }

    private string Missing(List<KeptResult> kept, IReadOnlyList<ObservationSlot> observations)
    {
        var notLooked = Sources
            .Given(_scored, observations)
            .Count(o => _scored.Record.Fields[o.Field] == Sources.NotLooked);
        var signs = notLooked == 0 ? "" : $"{Say.Count(notLooked, "sign", "signs")} not looked for";
        return Say.List(new[] { PartNames.Untried(kept), signs }.Where(t => t.Length > 0));
    }

    /// <summary>Points so far where points add up; else what is missing first, then the ends.</summary>
    private static string Bounded(OutcomeResult result, Rational? top, string missing)
    {
        var outcome = result.Outcome;
        var ends = $"between {result.Low} and {AnswerText.WithUnit(result.High, outcome.Unit)}";
        var because = missing.Length == 0 ? "something it rests on is not known" : missing;
        if (IsSum(outcome) && outcome.Low == Rational.Zero)
        {
            return $"{Value(outcome, result.Low, top)}, {because}, so {ends}";
        }

        return result.Low == outcome.Low && result.High == outcome.High
            ? $"not known, {because}"
            : $"{because}, so {ends}";
    }

    /// <summary>
    /// The most a score can come to. Where parts are left out the full range would mislead, so the cut-offs of
    /// the form in use say it, or nothing does.
    /// </summary>
    private static Rational? Top(OutcomeResult result, List<KeptResult> kept, BandResult? band)
    {
        var outcome = result.Outcome;
        if (
            !outcome.IsScore
            || outcome.Table is not null
            || outcome.Step is null
            || outcome.Low != Rational.Zero
        )
        {
            return null;
        }

        if (
            kept.Any(k =>
                k.State == State.NotApplicable && k.Giving is not (Giving.Given or Giving.OtherForm)
            )
        )
        {
            return IsSum(outcome) ? Shrunk(kept) : null;
        }

        var top = kept.Any(k => k.State == State.NotApplicable)
            ? band?.Row?.Cells.OfType<CutOffCell>().Select(c => (Rational?)c.To).Max()
            : outcome.High;
        return top >= result.High ? top : null;
    }

    /// <summary>What a sum can come to where parts were left out: the most of the others.</summary>
    private static Rational Shrunk(List<KeptResult> kept) =>
        kept.Where(k => k.State != State.NotApplicable)
            .Aggregate(Rational.Zero, (sum, k) => sum + k.Lines.Response.High);

    private static string Value(Outcome outcome, Rational value, Rational? top) =>
        top is null
            ? AnswerText.WithUnit(value, outcome.Unit)
            : $"{value} of {AnswerText.WithUnit(top.Value, outcome.Unit)}";
}
