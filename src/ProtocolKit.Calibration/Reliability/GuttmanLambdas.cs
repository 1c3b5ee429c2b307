using System.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace ProtocolKit.Calibration.Reliability;

/// <summary>Guttman's six lower bounds of reliability.</summary>
/// <param name="BestEqualSplit">Lambda 4 over halves of ⌊k/2⌋ items; null beyond 20 items.</param>
/// <param name="Lambda6">Null where items depend on each other exactly.</param>
public sealed record GuttmanResult(
    double Lambda1,
    double Lambda2,
    double Lambda3,
    double? BestEqualSplit,
    double? BestAnySplit,
    double? WorstEqualSplit,
    double Lambda5,
    double? Lambda6
);

/// <summary>
/// Guttman L (1945) Psychometrika 10:255-282, from a covariance or a correlation matrix (the two differ; name which).
/// Splits are searched in full up to 20 items.
/// </summary>
public static class GuttmanLambdas
{
    private const int MostItems = 20;

    public static GuttmanResult Of(Matrix<double> covariance)
    {
        var k = covariance.RowCount;
        Require.AtLeast(k, 2, "Items");
        var (total, trace) = (covariance.Enumerate().Sum(), covariance.Diagonal().Sum());
        Require.That(total > 0, "Reliability can't be computed: every person has the same total.");
        var first = 1 - (trace / total);
        var squares = Enumerable
            .Range(0, k)
            .Select(i =>
                Enumerable.Range(0, k).Where(j => j != i).Sum(j => covariance[i, j] * covariance[i, j])
            )
            .ToArray();
        (double BestEqual, double Best, double WorstEqual)? splits =
            k <= MostItems ? Splits(covariance, total) : null;
        return new GuttmanResult(
            first,
            first + (Math.Sqrt(k / (k - 1.0) * squares.Sum()) / total),
            CronbachAlpha.Of(covariance),
            splits?.BestEqual,
            splits?.Best,
            splits?.WorstEqual,
            first + (2 * Math.Sqrt(squares.Max()) / total),
            Sixth(covariance, total)
        );
    }

    private static double? Sixth(Matrix<double> covariance, double total)
    {
        if (covariance.ConditionNumber() > 1e12)
        {
            return null;
        }

        var inverse = covariance.Inverse();
        return 1 - (inverse.Diagonal().Sum(d => 1 / d) / total);
    }

    private static (double BestEqual, double Best, double WorstEqual) Splits(Matrix<double> c, double total)
    {
        var k = c.RowCount;
        var (bestEqual, best, worstEqual) = (
            double.NegativeInfinity,
            double.NegativeInfinity,
            double.PositiveInfinity
        );
        for (var mask = 1u; mask < 1u << (k - 1); mask++)
        {
            // The last item is always in the other half, so each split comes once.
            var size = BitOperations.PopCount(mask);
            var between = 0.0;
            for (var i = 0; i < k; i++)
            {
                for (var j = 0; j < k; j++)
                {
                    between += (mask >> i & 1) == 1 && (mask >> j & 1) == 0 ? c[i, j] : 0;
                }
            }

            var value = 4 * between / total;
            best = Math.Max(best, value);
            if (size == k / 2 || k - size == k / 2)
            {
                bestEqual = Math.Max(bestEqual, value);
                worstEqual = Math.Min(worstEqual, value);
            }
        }

        return (bestEqual, best, worstEqual);
    }
}
