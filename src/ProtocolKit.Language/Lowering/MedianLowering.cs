using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// The middle of several values by a network of smaller and larger ones; of an even number the half-way point of the middle two.
/// Values that don't count are put at the end, and the middle of the rest is taken.
/// </summary>
internal sealed class MedianLowering(ProgramBuilder program)
{
    private readonly IntMath _math = program.Math;

    /// <param name="counts">Whether a value counts; null: it always does.</param>
    /// <returns>The median as a fraction: over one where the number is odd for sure, else over two.</returns>
    public Ratio Lower(string name, IReadOnlyList<IntExpr> values, IReadOnlyList<BoolExpr?> counts)
    {
        var never = values.Max(v => v.High);
        var sorted = values
            .Select((v, i) => counts[i] is { } c ? IntMath.Choose(c, v, IntMath.Number(never)) : v)
            .ToArray();
        Sort(name, sorted);
        if (counts.All(c => c is null))
        {
            return Middle(sorted, sorted.Length);
        }

        var number = program.Name(
            $"{name}.count",
            _math.Sum([.. counts.Select(c => new SumTerm(c, IntMath.Number(1)))]),
            "how many values count"
        );
        var doubled = Doubled(sorted, 1);
        for (var n = 2; n <= sorted.Length; n++)
        {
            doubled = IntMath.Choose(Bools.AtLeast(number, n), Doubled(sorted, n), doubled);
        }

        return new Ratio(doubled, IntMath.Number(sorted.Length == 1 ? 1 : 2));
    }

    private Ratio Middle(IntExpr[] sorted, int number) =>
        number % 2 == 1
            ? new Ratio(sorted[number / 2], IntMath.Number(1))
            : new Ratio(Doubled(sorted, number), IntMath.Number(2));

    private IntExpr Doubled(IntExpr[] sorted, int number) =>
        sorted.Length == 1 ? sorted[0] : _math.Add(sorted[(number - 1) / 2], sorted[number / 2]);

    /// <summary>Batcher's odd-even merge sort for any number of values (Knuth, TAOCP 3, 5.2.2, algorithm M; from memory).</summary>
    private void Sort(string name, IntExpr[] values)
    {
        var next = 0;
        for (var p = Highest(values.Length); p > 0; p /= 2)
        {
            for (var (q, r, d) = (Highest(values.Length), 0, p); ; (d, q, r) = (q - p, q / 2, p))
            {
                for (var i = 0; i + d < values.Length; i++)
                {
                    if ((i & p) == r)
                    {
                        Exchange(values, i, i + d);
                    }
                }

                if (q == p)
                {
                    break;
                }
            }
        }

        void Exchange(IntExpr[] all, int i, int j)
        {
            var (a, b) = (all[i], all[j]);
            next++;
            var part = string.Create(CultureInfo.InvariantCulture, $"{name}.sort-{next}");
            all[i] = program.Name($"{part}.smaller", IntMath.Least(a, b), "the smaller of two");
            all[j] = program.Name($"{part}.larger", IntMath.Most(a, b), "the larger of two");
        }
    }

    /// <summary>The largest power of two below the number of values, at least 1.</summary>
    private static int Highest(int count)
    {
        var power = 1;
        while (power * 2 < count)
        {
            power *= 2;
        }

        return power;
    }
}
