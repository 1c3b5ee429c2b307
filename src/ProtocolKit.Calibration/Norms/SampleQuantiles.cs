namespace ProtocolKit.Calibration.Norms;

/// <summary>Sample quantiles of the nine types of Hyndman RJ, Fan Y (1996) Am Stat 50:361-365, and percentile ranks.</summary>
public static class SampleQuantiles
{
    /// <summary>The p-quantile, p from 0 to 1, type from 1 to 9 (7 where none is given).</summary>
    public static double Of(IReadOnlyList<double> values, double p, int type = 7) =>
        OfSorted([.. values.Order()], p, type);

    /// <summary>The same of values already in ascending order.</summary>
    public static double OfSorted(IReadOnlyList<double> sorted, double p, int type = 7)
    {
        Require.AtLeast(sorted.Count, 1, "Values");
        Require.That(p is >= 0 and <= 1, "A quantile's share lies between 0 and 1.");
        var n = sorted.Count;
        const double Fuzz = 4 * 2.220446049250313e-16;
        if (type <= 3)
        {
            var at = (n * p) - (type == 3 ? 0.5 : 0);
            var whole = (int)Math.Floor(at + Fuzz);
            var beyond = at - whole > Fuzz;
            var weight = type switch
            {
                1 => beyond ? 1 : 0,
                2 => beyond ? 1 : 0.5,
                3 => beyond || whole % 2 != 0 ? 1 : 0,
                _ => throw new NotEstimableException("Quantiles have types 1 to 9."),
            };
            return Between(whole, weight);
        }

        var (a, b) = type switch
        {
            4 => (0.0, 1.0),
            5 => (0.5, 0.5),
            6 => (0.0, 0.0),
            7 => (1.0, 1.0),
            8 => (1 / 3.0, 1 / 3.0),
            9 => (3 / 8.0, 3 / 8.0),
            _ => throw new NotEstimableException("Quantiles have types 1 to 9."),
        };
        var place = a + (p * (n + 1 - a - b));
        var index = (int)Math.Floor(place + Fuzz);
        var share = place - index;
        return Between(index, Math.Abs(share) < Fuzz ? 0 : share);

        double Between(int index, double weight)
        {
            var low = sorted[Math.Clamp(index, 1, n) - 1];
            var high = sorted[Math.Clamp(index + 1, 1, n) - 1];
            return weight == 0 ? low
                : weight == 1 ? high
                : low + (weight * (high - low));
        }
    }
}

/// <summary>A score's percentile rank in four meanings, 0 to 100.</summary>
/// <param name="Middle">100 (below + half the ties)/n: the one norm tables use.</param>
/// <param name="Strict">Percent below.</param>
/// <param name="Weak">Percent at or below.</param>
/// <param name="Rank">Mean of the ranks of equal scores, as a percentage.</param>
public sealed record PercentileRank(double Middle, double Strict, double Weak, double Rank)
{
    public static PercentileRank Of(IReadOnlyList<double> values, double score)
    {
        Require.AtLeast(values.Count, 1, "Norm scores");
        double n = values.Count;
        var below = values.Count(v => v < score);
        var equal = values.Count(v => v == score);
        return new PercentileRank(
            100 * (below + (equal / 2.0)) / n,
            100 * below / n,
            100 * (below + equal) / n,
            50 * (below + below + equal + (equal > 0 ? 1 : 0)) / n
        );
    }
}
