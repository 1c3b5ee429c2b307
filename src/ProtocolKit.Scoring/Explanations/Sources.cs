using System.Text.RegularExpressions;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says what a value was made from: its answers with the trials kept, and the signs it asks about.</summary>
internal sealed class Sources(ScoredRecord scored)
{
    public const long NotLooked = 0;
    public const long Looked = 1;
    public const long Seen = 2;

    /// <summary>A value made of more parts than this is explained by the list of answers.</summary>
    private const int MostParts = 3;

    /// <summary>The signs that belong to the form in use.</summary>
    public static IEnumerable<ObservationSlot> Given(
        ScoredRecord scored,
        IEnumerable<ObservationSlot> observations
    )
    {
        var giving = GivingReader.From(scored.Protocol.Program, scored.Lines);
        return observations
            .Where(o => !scored.Record.IsShortForm || o.Task.ShortForm)
            .Where(o => giving.Of(o.Task, o.Variant) is Giving.Given or Giving.Closed);
    }

    /// <summary>A sentence of its own, or nothing where there is nothing to add.</summary>
    public string Of(OutcomeResult result, List<KeptResult> kept, IReadOnlyList<ObservationSlot> observations)
    {
        var parts = kept.Where(k => k.State == State.Known)
            .GroupBy(k => PartNames.Of(k.Lines.Task, k.Lines.Variant))
            .ToList();
        var signs = Signs(observations);
        if (OutcomeSentences.IsSum(result.Outcome) || parts.Count > MostParts)
        {
            return "";
        }

        if (parts.Count == 1 && signs.Length == 0 && IsJust(parts[0], result))
        {
            var trial = AnswerSentences.KeptTrial(scored, parts[0].First());
            return trial.Length == 0 ? "" : $" {Say.Sentence(trial)}.";
        }

        var timing = result.Outcome.TimingError is { } error ? $"timed by hand, give or take {error}" : "";
        var all = parts
            .Select(p => Part(p, result.Outcome, parts.Count == 1))
            .Append(signs)
            .Append(timing)
            .Where(t => t.Length > 0)
            .ToList();
        return all.Count == 0 ? "" : $" From {string.Join("; ", all)}.";
    }

    /// <summary>True when the value is the answer itself.</summary>
    private static bool IsJust(IGrouping<string, KeptResult> part, OutcomeResult result) =>
        part.Count() == 1
        && part.Single().Text() is var text
        && (text == result.Low.ToString() || text == AnswerText.WithUnit(result.Low, result.Outcome.Unit));

    private string Part(IGrouping<string, KeptResult> part, Outcome outcome, bool isOnly)
    {
        var texts =
            (isOnly ? Worked(part, outcome) : null) ?? Say.List(part.Select(k => k.Text().TrimEnd('.')));
        var trial = AnswerSentences.KeptTrial(scored, part.First());
        var name = part.Key == outcome.Title ? "the answer" : part.Key;
        return $"{name}: {texts}{(trial.Length == 0 ? "" : $" ({trial})")}";
    }

    /// <summary>A quotient or product with its answers put in: <c>14 syllables / 4.1 s</c>.</summary>
    private static string? Worked(IGrouping<string, KeptResult> part, Outcome outcome)
    {
        var formula = outcome.Formula;
        if (
            !formula.Contains(" / ", StringComparison.Ordinal)
            && !formula.Contains(" * ", StringComparison.Ordinal)
        )
        {
            return null;
        }

        foreach (var kept in part)
        {
            if (!FormulaNames.WordsOf(formula).Contains(kept.Lines.Key))
            {
                return null;
            }

            var name = $"(?<![a-z0-9.-]){Regex.Escape(kept.Lines.Key)}(?![a-z0-9-]|[.][a-z0-9])";
            formula = Regex.Replace(formula, name, _ => kept.Text(), RegexOptions.CultureInvariant);
        }

        return formula;
    }

    private string Signs(IReadOnlyList<ObservationSlot> observations)
    {
        var given = Given(scored, observations).ToList();
        var seen = given
            .Where(o => scored.Record.Fields[o.Field] == Seen)
            .Select(o => o.Observation.Text.TrimEnd('.'))
            .Distinct()
            .ToList();
        if (seen.Count > 0)
        {
            return $"{Say.Count(seen.Count, "sign", "signs")} seen ({string.Join("; ", seen)})";
        }

        var looked = given.Count(o => scored.Record.Fields[o.Field] == Looked);
        return looked == 0 ? "" : $"{Say.Count(looked, "sign", "signs")} looked for, none seen";
    }
}
