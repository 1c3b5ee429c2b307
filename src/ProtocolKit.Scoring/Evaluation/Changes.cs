using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Says of each value that has an error of measurement whether two sittings differ by more than that error: beyond it, within
/// it, or it can't be said. A change is beyond the error when it is larger than 1.96 · √2 · error, for both sittings carry
/// one. Source: Weir JP (2005), J Strength Cond Res 19:231-240 (minimal difference). Compared as squares, so exactly.
/// </summary>
public static class Changes
{
    /// <summary>2 · 1.96².</summary>
    private static readonly Rational Factor = new(76832, 10000);

    /// <param name="first">The earlier sitting.</param>
    /// <param name="second">The later one, of the same protocol and case.</param>
    /// <exception cref="ArgumentException">The two records are of different cases, or the second is the earlier one.</exception>
    public static IReadOnlyList<ChangeResult> Between(ScoredRecord first, ScoredRecord second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        if (first.Record.Case != second.Record.Case)
        {
            throw new ArgumentException("The two records are of different cases.", nameof(second));
        }

        if (first.Record.Seen.Count == 0 || second.Record.Seen.Count == 0)
        {
            throw new ArgumentException("A record without a day can't be compared.", nameof(second));
        }

        if (second.Record.Seen[0] < first.Record.Seen[0])
        {
            throw new ArgumentException("The second record is the earlier one.", nameof(second));
        }

        return [.. second.Protocol.ReTests.Select(r => Of(r, first, second))];
    }

    /// <summary>True where a change of this size is larger than the error of both sittings together.</summary>
    public static bool IsBeyond(Rational change, Rational error) => change * change > Factor * error * error;

    private static ChangeResult Of(ReTest reTest, ScoredRecord first, ScoredRecord second)
    {
        if (WhyNot(reTest, first, second) is { } why)
        {
            return new ChangeResult(reTest, ChangeAnswer.CannotSay, null, null, why);
        }

        var (before, after) = (Outcome(first, reTest), Outcome(second, reTest));
        var (least, most) = (after.Low - before.High, after.High - before.Low);
        var (leastBeyond, mostBeyond) = (IsBeyond(least, reTest.Error), IsBeyond(most, reTest.Error));
        if (leastBeyond && mostBeyond && least.Sign == most.Sign)
        {
            return new ChangeResult(reTest, ChangeAnswer.BeyondError, least, most, "");
        }

        return !leastBeyond && !mostBeyond
            ? new ChangeResult(reTest, ChangeAnswer.WithinError, least, most, "")
            : new ChangeResult(
                reTest,
                ChangeAnswer.CannotSay,
                least,
                most,
                "What was not tried leaves it open whether the change is larger than the error."
            );
    }

    private static string? WhyNot(ReTest reTest, ScoredRecord first, ScoredRecord second)
    {
        if (first.Record.IsShortForm != second.Record.IsShortForm)
        {
            return "One sitting used the short form and the other the full form.";
        }

        var (before, after) = (Outcome(first, reTest), Outcome(second, reTest));
        foreach (var (value, which) in new[] { (before, "first"), (after, "second") })
        {
            if (value.State != State.Known)
            {
                return value.State == State.NotApplicable
                    ? $"The {which} sitting has no such value."
                    : $"The {which} sitting has no value: {value.State.ToWords()}.";
            }
        }

        return reTest.Between is { } wait && !wait.Includes(first.Record.Seen[0], second.Record.Seen[0])
            ? $"The error is known for sittings {reTest.After} apart, and these are not."
            : null;
    }

    private static OutcomeResult Outcome(ScoredRecord scored, ReTest reTest) =>
        scored.Outcomes.First(o => o.Outcome.Name == reTest.Outcome.Name);
}
