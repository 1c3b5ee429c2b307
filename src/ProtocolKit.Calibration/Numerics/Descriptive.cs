namespace ProtocolKit.Calibration.Numerics;

/// <summary>Means, variances, correlations and ranks of complete lists.</summary>
public static class Descriptive
{
    /// <summary>The arithmetic mean; the list may not be empty.</summary>
    public static double Mean(IReadOnlyList<double> values)
    {
        Require.AtLeast(values.Count, 1, "A mean");
        return values.Sum() / values.Count;
    }

    /// <summary>The sum of squared deviations from the mean.</summary>
    public static double SumOfSquares(IReadOnlyList<double> values)
    {
        var mean = Mean(values);
        return values.Sum(v => (v - mean) * (v - mean));
    }

    /// <summary>The variance with divisor n − 1.</summary>
    public static double Variance(IReadOnlyList<double> values)
    {
        Require.AtLeast(values.Count, 2, "A variance");
        return SumOfSquares(values) / (values.Count - 1);
    }

    /// <summary>The variance with divisor n.</summary>
    public static double PopulationVariance(IReadOnlyList<double> values) =>
        SumOfSquares(values) / values.Count;

    /// <summary>The standard deviation with divisor n − 1.</summary>
    public static double StandardDeviation(IReadOnlyList<double> values) => Math.Sqrt(Variance(values));

    /// <summary>The middle value, or the mean of the two middle ones.</summary>
    public static double Median(IReadOnlyList<double> values)
    {
        Require.AtLeast(values.Count, 1, "A median");
        var sorted = values.Order().ToArray();
        var half = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
    }

    /// <summary>The covariance with divisor n − 1.</summary>
    public static double Covariance(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        Require.SameLength(x.Count, y.Count, "A covariance");
        Require.AtLeast(x.Count, 2, "A covariance");
        var (meanX, meanY) = (Mean(x), Mean(y));
        var sum = 0.0;
        for (var i = 0; i < x.Count; i++)
        {
            sum += (x[i] - meanX) * (y[i] - meanY);
        }

        return sum / (x.Count - 1);
    }

    /// <summary>Pearson's correlation; null where a list doesn't vary.</summary>
    public static double? Correlation(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        var scale = Math.Sqrt(SumOfSquares(x) * SumOfSquares(y));
        return scale > 0 ? Math.Clamp(Covariance(x, y) * (x.Count - 1) / scale, -1, 1) : null;
    }

    /// <summary>Ranks from 1; equal values share the mean of their ranks.</summary>
    public static double[] MidRanks(IReadOnlyList<double> values)
    {
        var order = Enumerable.Range(0, values.Count).OrderBy(i => values[i]).ToArray();
        var ranks = new double[values.Count];
        for (var start = 0; start < order.Length; )
        {
            var end = start;
            while (end < order.Length && values[order[end]] == values[order[start]])
            {
                end++;
            }

            for (var i = start; i < end; i++)
            {
                ranks[order[i]] = (start + 1 + end) / 2.0;
            }

            start = end;
        }

        return ranks;
    }
}
