using ProtocolKit.Calibration.Norms;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Resampling;

/// <summary>Intervals from resampled statistics and the leave-one-out values of the sample.</summary>
/// <param name="Bias">Mean of the resamples minus the estimate.</param>
/// <param name="BiasCorrection">z0, from the share of resamples strictly below the estimate; null if that is none or all.</param>
/// <param name="Acceleration">From the jackknife; null where leaving one out changes nothing.</param>
/// <param name="AdjustedLevels">The levels BCa reads its limits at.</param>
public sealed record BootstrapResult(
    double Estimate,
    double Mean,
    double StandardError,
    double Bias,
    double? BiasCorrection,
    double? Acceleration,
    Interval Percentile,
    Interval? Bca,
    Interval? AdjustedLevels,
    Interval PercentileType7,
    Interval PercentileType6,
    Interval Basic,
    Interval Normal,
    double JackknifeError
);

/// <summary>
/// Percentile, basic, bias-corrected normal and BCa intervals: Efron B, Tibshirani RJ (1993) An Introduction to the
/// Bootstrap; Davison AC, Hinkley DV (1997) Bootstrap Methods and their Application, chapter 5 (order statistics are
/// interpolated on the normal quantile scale, equation 5.8). At least two resamples.
/// </summary>
public static class BootstrapIntervals
{
    public static BootstrapResult Of(
        double estimate,
        IReadOnlyList<double> resampled,
        IReadOnlyList<double> leftOut,
        double confidence = 0.95
    )
    {
        Require.Level(confidence);
        Require.AtLeast(resampled.Count, 2, "Resamples");
        Require.Finite(resampled.Append(estimate), "A resampled statistic");
        var sorted = resampled.Order().ToArray();
        var (low, high) = ((1 - confidence) / 2, (1 + confidence) / 2);
        var (mean, error) = (Descriptive.Mean(sorted), Descriptive.StandardDeviation(sorted));
        var percentile = new Interval(Interpolated(sorted, low), Interpolated(sorted, high));
        var below = sorted.Count(t => t < estimate) / (double)sorted.Length;
        double? z0 = below is > 0 and < 1 ? Distributions.NormalQuantile(below) : null;
        var acceleration = Acceleration(leftOut);
        Interval? levels =
            z0 is { } z && acceleration is { } a
                ? new Interval(Adjusted(z, a, low), Adjusted(z, a, high))
                : null;
        return new BootstrapResult(
            estimate,
            mean,
            error,
            mean - estimate,
            z0,
            acceleration,
            percentile,
            levels?.Map(l => Interpolated(sorted, l)),
            levels,
            new Interval(SampleQuantiles.OfSorted(sorted, low, 7), SampleQuantiles.OfSorted(sorted, high, 7)),
            new Interval(SampleQuantiles.OfSorted(sorted, low, 6), SampleQuantiles.OfSorted(sorted, high, 6)),
            new Interval((2 * estimate) - percentile.High, (2 * estimate) - percentile.Low),
            Interval.Around((2 * estimate) - mean, Distributions.NormalMultiplier(confidence) * error),
            JackknifeError(leftOut)
        );
    }

    /// <summary>The jackknife acceleration Σ(θ̄ − θᵢ)³ / 6(Σ(θ̄ − θᵢ)²)^1.5; null where nothing varies.</summary>
    public static double? Acceleration(IReadOnlyList<double> leftOut)
    {
        var mean = Descriptive.Mean(leftOut);
        var squares = leftOut.Sum(t => Math.Pow(mean - t, 2));
        return squares > 0 ? leftOut.Sum(t => Math.Pow(mean - t, 3)) / (6 * Math.Pow(squares, 1.5)) : null;
    }

    /// <summary>√((n − 1)/n Σ(θᵢ − θ̄)²).</summary>
    public static double JackknifeError(IReadOnlyList<double> leftOut) =>
        Math.Sqrt((leftOut.Count - 1.0) / leftOut.Count * Descriptive.SumOfSquares(leftOut));

    private static double Adjusted(double z0, double a, double level)
    {
        var shifted = z0 + Distributions.NormalQuantile(level);
        return Distributions.NormalCdf(z0 + (shifted / (1 - (a * shifted))));
    }

    private static double Interpolated(double[] sorted, double level)
    {
        var count = sorted.Length;
        var place = (count + 1) * level;
        var k = (int)Math.Floor(place);
        if (k == place || k == 0 || k >= count)
        {
            return sorted[Math.Clamp(k, 1, count) - 1];
        }

        var (at, from, to) = (
            Distributions.NormalQuantile(level),
            Distributions.NormalQuantile(k / (count + 1.0)),
            Distributions.NormalQuantile((k + 1) / (count + 1.0))
        );
        return sorted[k - 1] + ((at - from) / (to - from) * (sorted[k] - sorted[k - 1]));
    }
}
