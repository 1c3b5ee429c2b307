using System.Numerics;

namespace ProtocolKit.Calibration.Scales;

/// <summary>What totals a scale can reach and in how many ways.</summary>
public sealed record ScaleStructureResult(
    IReadOnlyList<decimal> Totals,
    IReadOnlyDictionary<decimal, BigInteger> Patterns
)
{
    public BigInteger AnswerPatterns => Patterns.Values.Aggregate(BigInteger.Zero, (a, b) => a + b);

    /// <summary>Totals of a grid from lowest to highest that no answers give.</summary>
    public IReadOnlyList<decimal> Unreachable(decimal step) =>
        [.. Grid(step).Where(t => !Patterns.ContainsKey(t))];

    /// <summary>All totals of a grid from lowest to highest.</summary>
    public IEnumerable<decimal> Grid(decimal step)
    {
        for (var t = Totals[0]; t <= Totals[^1]; t += step)
        {
            yield return t;
        }
    }

    /// <summary>Those of some totals that lie in no band, or in more than one (limits included).</summary>
    public static IReadOnlyList<decimal> NotInOneBand(
        IEnumerable<decimal> totals,
        IReadOnlyList<(decimal From, decimal To)> bands
    ) => bands.Count == 0 ? [] : [.. totals.Where(t => bands.Count(b => b.From <= t && t <= b.To) != 1)];
}

/// <summary>Reachable totals of a sum of items by counting answer patterns, exactly.</summary>
public static class ScaleStructure
{
    /// <summary>The allowed scores of each item; pairs of items (positions from 0) that can't both be above their lowest.</summary>
    public static ScaleStructureResult Of(
        IReadOnlyList<IReadOnlyList<decimal>> items,
        IReadOnlyList<(int First, int Second)>? exclusive = null
    )
    {
        Require.AtLeast(items.Count, 1, "Items");
        Require.That(items.All(i => i.Count > 0), "Every item needs at least one allowed score.");
        var patterns = Count(items, [], exclusive ?? []);
        return new ScaleStructureResult([.. patterns.Keys], patterns);
    }

    /// <summary>Where two items exclude each other, patterns with both are those counted without the rule, taken away.</summary>
    private static SortedDictionary<decimal, BigInteger> Count(
        IReadOnlyList<IReadOnlyList<decimal>> items,
        HashSet<int> above,
        IReadOnlyList<(int First, int Second)> exclusive
    )
    {
        if (exclusive.Count > 0)
        {
            var ((first, second), rest) = (exclusive[0], exclusive.Skip(1).ToArray());
            var all = Count(items, above, rest);
            foreach (var (total, count) in Count(items, [.. above, first, second], rest))
            {
                all[total] -= count;
                if (all[total].IsZero)
                {
                    all.Remove(total);
                }
            }

            return all;
        }

        var sums = new SortedDictionary<decimal, BigInteger> { [0] = 1 };
        for (var i = 0; i < items.Count; i++)
        {
            var next = new SortedDictionary<decimal, BigInteger>();
            var lowest = items[i].Min();
            foreach (var score in items[i].Where(s => !above.Contains(i) || s > lowest))
            {
                foreach (var (sum, count) in sums)
                {
                    next[sum + score] = next.GetValueOrDefault(sum + score) + count;
                }
            }

            sums = next;
        }

        return sums;
    }
}
