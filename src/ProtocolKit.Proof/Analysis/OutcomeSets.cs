using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Analysis;

/// <summary>The exact set of values of every measure and score.</summary>
internal static class OutcomeSets
{
    public static IReadOnlyList<ReachableSet> Of(ProofResults results)
    {
        var sets = new List<ReachableSet>();
        foreach (var outcome in results.Program.Outcomes)
        {
            foreach (var (form, untried) in results.Forms.SelectMany(f => new[] { (f, false), (f, true) }))
            {
                results.Try(
                    untried
                        ? $"The set of values of {outcome.Outcome.Name} with untried answers"
                        : $"The set of values of {outcome.Outcome.Name}",
                    outcome.Outcome.Origin,
                    () => Add(results, outcome, form, untried, sets)
                );
            }
        }

        return sets;
    }

    private static void Add(
        ProofResults results,
        OutcomeLines outcome,
        long form,
        bool untried,
        List<ReachableSet> sets
    )
    {
        Reach? last = null;
        foreach (var ages in results.Ages)
        {
            var part = new Part(ages, form, untried);
            int[] lines =
                outcome.LowDenominatorLine < 0
                    ? [outcome.StateLine, outcome.LowLine, outcome.HighLine]
                    :
                    [
                        outcome.StateLine,
                        outcome.LowLine,
                        outcome.HighLine,
                        outcome.LowDenominatorLine,
                        outcome.HighDenominatorLine,
                    ];
            var reach = results.Questions.Ask(part, lines);
            if (reach == last)
            {
                sets[^1] = sets[^1] with { Ages = new AgeRange(sets[^1].Ages.From, ages.To) };
                continue;
            }

            last = reach;
            sets.Add(Read(outcome, part, reach));
        }
    }

    private static ReachableSet Read(OutcomeLines outcome, Part part, Reach reach)
    {
        var values = new SortedSet<Rational>();
        var ranges = new SortedSet<(Rational, Rational)>();
        var states = new SortedSet<State>();
        for (var row = 0; row < reach.Count; row++)
        {
            if (reach.Value(row, 0) is not 0 and var state)
            {
                states.Add((State)state);
                continue;
            }

            var isFraction = outcome.LowDenominatorLine >= 0;
            var low = new Rational(reach.Value(row, 1), isFraction ? reach.Value(row, 3) : 1) * outcome.Scale;
            var high =
                new Rational(reach.Value(row, 2), isFraction ? reach.Value(row, 4) : 1) * outcome.Scale;
            _ = low == high ? values.Add(low) : ranges.Add((low, high));
        }

        return new ReachableSet(
            outcome.Outcome,
            part.Form == 1,
            part.Ages,
            part.Untried,
            [.. values],
            [.. ranges],
            [.. states]
        );
    }
}
