using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Reliability;

/// <summary>The Spearman–Brown prophecy: Spearman C (1910), Brown W (1910) British Journal of Psychology 3.</summary>
public static class SpearmanBrown
{
    /// <summary>The reliability of a test made <paramref name="length"/> times as long.</summary>
    public static double Prophecy(double reliability, double length)
    {
        var bottom = 1 + ((length - 1) * reliability);
        Require.That(
            length > 0 && bottom > 0,
            "No reliability follows for this length: the formula's denominator is not positive."
        );
        return length * reliability / bottom;
    }

    /// <summary>How many times as long a test must be to reach a reliability.</summary>
    public static double LengthFor(double reliability, double target)
    {
        Require.That(
            reliability is > 0 and < 1 && target is > 0 and < 1,
            "Reliabilities here lie between 0 and 1."
        );
        return target * (1 - reliability) / (reliability * (1 - target));
    }
}

/// <summary>Reliability from two halves.</summary>
/// <param name="Flanagan">2(1 − (s²a + s²b)/s²), Guttman's lambda 4 of this split.</param>
/// <param name="Rulon">1 − s²(a − b)/s²; the same number.</param>
public sealed record SplitHalfResult(
    double? Correlation,
    double? SpearmanBrown,
    double Flanagan,
    double Rulon
);

/// <summary>Split-half reliability: Rulon PJ (1939) Harvard Educ Rev 9:99-103; Flanagan JC (1937). Totals of two halves, complete.</summary>
public static class SplitHalf
{
    public static SplitHalfResult Of(IReadOnlyList<double> first, IReadOnlyList<double> second)
    {
        Require.SameLength(first.Count, second.Count, "Two halves");
        var total = Descriptive.Variance([.. first.Zip(second, (a, b) => a + b)]);
        Require.That(total > 0, "Split-half reliability can't be computed: every person has the same total.");
        var r = Descriptive.Correlation(first, second);
        return new SplitHalfResult(
            r,
            2 * r / (1 + r),
            2 * (1 - ((Descriptive.Variance(first) + Descriptive.Variance(second)) / total)),
            1 - (Descriptive.Variance([.. first.Zip(second, (a, b) => a - b)]) / total)
        );
    }
}
