using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Change;

/// <summary>
/// Errors of classical test theory for a scale with this SD and reliability: Lord FM, Novick MR (1968); Harvill LM (1991)
/// Educ Meas Issues Pract 10(2):33-41. All in points of the scale.
/// </summary>
public sealed record MeasurementError
{
    public MeasurementError(double mean, double deviation, double reliability)
    {
        Require.That(
            deviation > 0 && reliability is >= 0 and <= 1,
            "Errors of measurement need an SD above 0 and a reliability from 0 to 1."
        );
        (Mean, Deviation, Reliability) = (mean, deviation, reliability);
    }

    public double Mean { get; }

    public double Deviation { get; }

    public double Reliability { get; }

    /// <summary>SEM, s√(1 − r): around a true score.</summary>
    public double OfMeasurement => Deviation * Math.Sqrt(1 - Reliability);

    /// <summary>SEE, s√(r(1 − r)): of an estimated true score.</summary>
    public double OfEstimation => Deviation * Math.Sqrt(Reliability * (1 - Reliability));

    /// <summary>SEP, s√(1 − r²): of a predicted second total.</summary>
    public double OfPrediction => Deviation * Math.Sqrt(1 - (Reliability * Reliability));

    /// <summary>√2 SEM.</summary>
    public double OfDifference => Math.Sqrt(2) * OfMeasurement;

    /// <summary>The true score estimated from a total, drawn to the mean.</summary>
    public double TrueScore(double total) => Mean + (Reliability * (total - Mean));

    /// <summary>Smallest detectable change at a confidence level.</summary>
    public double SmallestDetectableChange(double confidence = 0.95) =>
        Distributions.NormalMultiplier(confidence) * OfDifference;

    /// <summary>
    /// The SEM of one sitting from the SD of differences between two, SD/√2, with the interval from chi-square with n − 1 degrees
    /// of freedom; Bland JM, Altman DG (1996) BMJ 313:744 for the within-subject SD.
    /// </summary>
    /// <param name="deviation">Of the differences, above 0.</param>
    /// <param name="subjects">At least two.</param>
    public static (double Error, Interval Interval) OfTwoSittings(
        double deviation,
        int subjects,
        double confidence = 0.95
    )
    {
        Require.Level(confidence);
        Require.AtLeast(subjects, 2, "Children seen twice");
        Require.That(deviation > 0, "The differences don't vary, so their error has no interval.");
        var df = subjects - 1.0;
        var sum = df * deviation * deviation / 2;
        var tail = (1 - confidence) / 2;
        return (
            deviation / Math.Sqrt(2),
            new Interval(
                Math.Sqrt(sum / Distributions.ChiSquareQuantile(1 - tail, df)),
                Math.Sqrt(sum / Distributions.ChiSquareQuantile(tail, df))
            )
        );
    }

    /// <summary>Lord's SEM of one total x of n right-or-wrong items: √(x(n − x)/(n − 1)) (Lord FM (1957)).</summary>
    public static double Conditional(double total, int items)
    {
        Require.That(
            items > 1 && total >= 0 && total <= items,
            "A conditional error needs at least two items and a total among them."
        );
        return Math.Sqrt(total * (items - total) / (items - 1));
    }

    /// <summary>Keats's factor √((1 − alpha)/(1 − KR-21)) that matches conditional errors to the overall one (Keats JA (1957)).</summary>
    public static double KeatsFactor(double alpha, double kr21)
    {
        Require.That(alpha <= 1 && kr21 < 1, "Keats's factor needs a KR-21 below 1.");
        return Math.Sqrt((1 - alpha) / (1 - kr21));
    }
}
