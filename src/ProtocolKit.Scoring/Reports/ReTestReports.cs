using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Compares the sittings of one child value by value: each with the one before and, with more than two, the last with the first.
/// The answer is one of three, and "within the error" is never told as "no change".
/// </summary>
public static class ReTestReports
{
    /// <param name="sittings">At least two of one child, in the order of their days.</param>
    /// <exception cref="ArgumentException">They are of different cases, not in order, or fewer than two.</exception>
    public static ReTestReport Of(IReadOnlyList<ScoredRecord> sittings)
    {
        ArgumentNullException.ThrowIfNull(sittings);
        if (sittings.Count < 2)
        {
            throw new ArgumentException("Two sittings of one child are needed.", nameof(sittings));
        }

        var pairs = Enumerable.Range(1, sittings.Count - 1).Select(i => (From: i - 1, To: i)).ToList();
        if (sittings.Count > 2)
        {
            pairs.Add((0, sittings.Count - 1));
        }

        var answers = pairs
            .SelectMany(p =>
                Changes.Between(sittings[p.From], sittings[p.To]).Select(c => (p.From, p.To, Change: c))
            )
            .ToList();
        var last = sittings[^1];
        return new ReTestReport
        {
            Protocol = last.Protocol,
            Case = last.Record.Case,
            Sittings =
            [
                .. sittings.Select(s => new EvidenceFact(
                    Say.Day(s.Record.Seen[0]),
                    $"{RaterSentences.AgeOf(s.Record)}, {(s.Record.IsShortForm ? "short" : "full")} form"
                )),
            ],
            Values =
            [
                .. last.Protocol.ReTests.Select(r => new ReTestValue(
                    r,
                    [.. sittings.Select(s => Known(s, r))],
                    [
                        .. answers
                            .Where(a => a.Change.ReTest.Outcome.Name == r.Outcome.Name)
                            .Select(a => new ReTestAnswer(
                                a.From,
                                a.To,
                                a.Change.Answer,
                                ChangeSentences.Of(a.Change)
                            )),
                    ],
                    ChangeSentences.Basis(r)
                )),
            ],
            Remarks =
            [
                .. sittings
                    .SelectMany(s => s.Remarks.Select(r => $"{Say.Day(s.Record.Seen[0])}: {r}"))
                    .Distinct(),
            ],
        };
    }

    /// <summary>What changed since an earlier sitting, a sentence a value; why nothing can be said where the protocol names no error.</summary>
    internal static IReadOnlyList<string> Since(ScoredRecord earlier, ScoredRecord now)
    {
        var day = Say.Day(earlier.Record.Seen[0]);
        var changes = Changes.Between(earlier, now);
        return changes.Count == 0
            ?
            [
                $"Seen before on {day}. The protocol names no error of measurement, so nothing can be said of change.",
            ]
            :
            [
                $"Seen before on {day}.",
                .. changes.Select(c => $"{c.ReTest.Outcome.Title}: {ChangeSentences.Of(c)}"),
            ];
    }

    private static (Rational Low, Rational High)? Known(ScoredRecord scored, ReTest reTest)
    {
        var result = scored.Outcomes.First(o => o.Outcome.Name == reTest.Outcome.Name);
        return result.State == State.Known ? (result.Low, result.High) : null;
    }
}
