using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>Bias and limits of agreement with their intervals.</summary>
/// <param name="Limits">bias ± multiplier × SD of the differences.</param>
/// <param name="LimitError">√(3s²/n), the approximation of the 1986 paper, used for the intervals.</param>
/// <param name="LimitError1999">s√(1/n + z²/(2(n − 1))) of the 1999 paper.</param>
public sealed record LimitsOfAgreement(
    int Count,
    double Bias,
    double StandardDeviation,
    double BiasError,
    Interval BiasInterval,
    Interval Limits,
    double LimitError,
    double LimitError1999,
    Interval LowerLimitInterval,
    Interval UpperLimitInterval
);

/// <summary>How well one measurement repeats another of the same kind.</summary>
/// <param name="WithinSubject">√(Σd²/2n).</param>
/// <param name="Coefficient">2 × SD of the differences about zero, as printed in 1986.</param>
/// <param name="CoefficientOfWithin">1.96 √2 times the within-subject SD.</param>
public sealed record Repeatability(
    double MeanDifference,
    double DifferencesAboutMean,
    double DifferencesAboutZero,
    double WithinSubject,
    double Coefficient,
    double CoefficientOfWithin
);

/// <summary>
/// Agreement of two measurements of the same children. Sources: Bland JM, Altman DG (1986) Lancet i:307-310;
/// (1999) Stat Methods Med Res 8:135-160. Differences are first − second; they should look about normal and not grow
/// with the size of what is measured. Complete pairs only.
/// </summary>
public static class BlandAltman
{
    /// <summary>Limits with a multiplier of the SD: 1.96 (the normal quantile) where none is given.</summary>
    public static LimitsOfAgreement Limits(
        IReadOnlyList<double> first,
        IReadOnlyList<double> second,
        double? multiplier = null,
        double confidence = 0.95
    )
    {
        var differences = Differences(first, second);
        Require.AtLeast(differences.Length, 2, "Pairs of measurements");
        double n = differences.Length;
        var wide = multiplier ?? Distributions.NormalQuantile(0.975);
        var (bias, sd) = (Descriptive.Mean(differences), Descriptive.StandardDeviation(differences));
        var t = Distributions.StudentMultiplier(confidence, n - 1);
        var limits = Interval.Around(bias, wide * sd);
        var limitError = Math.Sqrt(3 * sd * sd / n);
        var z = Distributions.NormalQuantile(0.975);
        return new LimitsOfAgreement(
            differences.Length,
            bias,
            sd,
            sd / Math.Sqrt(n),
            Interval.Around(bias, t * sd / Math.Sqrt(n)),
            limits,
            limitError,
            sd * Math.Sqrt((1 / n) + (z * z / (2 * (n - 1)))),
            Interval.Around(limits.Low, t * limitError),
            Interval.Around(limits.High, t * limitError)
        );
    }

    /// <summary>Repeatability from two readings of each subject by one method.</summary>
    public static Repeatability Repeatability(IReadOnlyList<double> first, IReadOnlyList<double> second)
    {
        var differences = Differences(first, second);
        Require.AtLeast(differences.Length, 2, "Pairs of measurements");
        var aboutZero = Math.Sqrt(differences.Sum(d => d * d) / differences.Length);
        var within = aboutZero / Math.Sqrt(2);
        return new Repeatability(
            Descriptive.Mean(differences),
            Descriptive.StandardDeviation(differences),
            aboutZero,
            within,
            2 * aboutZero,
            Distributions.NormalQuantile(0.975) * Math.Sqrt(2) * within
        );
    }

    private static double[] Differences(IReadOnlyList<double> first, IReadOnlyList<double> second)
    {
        Require.SameLength(first.Count, second.Count, "Two measurements");
        Require.Finite(first.Concat(second), "Measurements");
        return [.. first.Zip(second, (a, b) => a - b)];
    }
}
