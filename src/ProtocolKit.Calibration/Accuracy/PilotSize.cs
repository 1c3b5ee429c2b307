using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Accuracy;

/// <summary>How many children of a kind an interval of a wanted width needs.</summary>
public static class PilotSize
{
    private const int Most = 1_000_000;

    /// <summary>The smallest number whose Wilson interval about the expected share is at most so wide on either side, on average.</summary>
    /// <param name="share">Between 0 and 1.</param>
    /// <param name="halfWidth">Half the interval's width, above 0.</param>
    public static int Cases(double share, double halfWidth, double confidence = 0.95) =>
        Smallest(n =>
        {
            var interval = ProportionIntervals.Wilson(share * n, n, confidence);
            return (interval.High - interval.Low) / 2 <= halfWidth;
        });

    /// <summary>
    /// The smallest number of cases for which the normal interval of an area is at most so wide on either side, by the error of
    /// Hanley JA, McNeil BJ (1982) Radiology 143:29-36.
    /// </summary>
    /// <param name="area">Expected, above 0.5 and below 1.</param>
    /// <param name="othersPerCase">How many children who are no cases there are for each case; above 0.</param>
    public static int CasesForArea(
        double area,
        double halfWidth,
        double othersPerCase,
        double confidence = 0.95
    )
    {
        Check(area, halfWidth, othersPerCase);
        var z = Distributions.NormalMultiplier(confidence);
        return Smallest(n =>
            z * RocCurve.HanleyMcNeilError(area, n, Math.Ceiling(n * othersPerCase)) <= halfWidth
        );
    }

    /// <summary>The same by the binormal variance of Obuchowski NA (1994) Acad Radiol 1:162-174, for ratings in few steps.</summary>
    public static int CasesForAreaBinormal(
        double area,
        double halfWidth,
        double othersPerCase,
        double confidence = 0.95
    )
    {
        Check(area, halfWidth, othersPerCase);
        var z = Distributions.NormalMultiplier(confidence);
        var a = Distributions.NormalQuantile(area) * 1.414;
        var variance = 0.0099 * Math.Exp(-a * a / 2) * ((5 * a * a) + 8 + (((a * a) + 8) / othersPerCase));
        return Smallest(n => z * Math.Sqrt(variance / n) <= halfWidth);
    }

    private static void Check(double area, double halfWidth, double othersPerCase) =>
        Require.That(
            area is > 0.5 and < 1 && halfWidth > 0 && othersPerCase > 0,
            "Planning for an area needs one above 0.5 and below 1, a width above 0, and children who are no cases."
        );

    /// <summary>The smallest number for which a width that shrinks with it is small enough.</summary>
    private static int Smallest(Func<int, bool> enough)
    {
        var (low, high) = (1, Most);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = enough(middle) ? (low, middle) : (middle + 1, high);
        }

        return low;
    }
}
