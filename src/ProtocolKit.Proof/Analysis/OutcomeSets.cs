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
        List<long[]>? last = null;
        foreach (var ages in results.Ages)
        {
            var part = new Part(ages, form, untried);
            var values = results.Questions.Values.Of(part, outcome);
            if (values == last)
            {
                sets[^1] = sets[^1] with { Ages = new AgeRange(sets[^1].Ages.From, ages.To) };
                continue;
            }

            last = values;
            sets.Add(Read(outcome, part, values));
        }
    }

    private static ReachableSet Read(OutcomeLines outcome, Part part, List<long[]> rows)
    {
        var values = new SortedSet<Rational>();
        var ranges = new SortedSet<(Rational, Rational)>();
        var states = new SortedSet<State>();
        foreach (var row in rows)
        {
            if (row[0] is not 0 and var state)
            {
                states.Add((State)state);
                continue;
            }

            var isFraction = outcome.LowDenominatorLine >= 0;
            var low = new Rational(row[1], isFraction ? row[3] : 1) * outcome.Scale;
            var high = new Rational(row[2], isFraction ? row[4] : 1) * outcome.Scale;
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
