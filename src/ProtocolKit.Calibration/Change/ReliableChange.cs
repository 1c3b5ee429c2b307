using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Change;

/// <summary>A reliable change index.</summary>
/// <param name="Error">Standard error of measurement s √(1 − r).</param>
/// <param name="DifferenceError">√2 times that.</param>
/// <param name="Threshold">Points that must lie between two totals at the confidence level.</param>
public sealed record ReliableChangeResult(
    double Error,
    double DifferenceError,
    double Index,
    double Threshold
);

/// <summary>
/// Jacobson NS, Truax P (1991) J Consult Clin Psychol 59:12-19, with the √2 of Christensen L, Mendoza JL (1986) Behavior
/// Therapy 17:305-308. Practice effects: Chelune GJ and others (1993) Neuropsychology 7:41-52; Iverson GL (2001) Arch Clin
/// Neuropsychol 16:183-191.
/// </summary>
public static class ReliableChange
{
    /// <summary>s is the SD of the first measurement, r the re-test reliability.</summary>
    public static ReliableChangeResult JacobsonTruax(
        double before,
        double after,
        double deviation,
        double reliability,
        double confidence = 0.95
    )
    {
        Require.That(
            deviation > 0 && reliability is >= 0 and < 1,
            "A change index needs an SD above 0 and a reliability from 0 to below 1."
        );
        var error = deviation * Math.Sqrt(1 - reliability);
        var difference = Math.Sqrt(2) * error;
        return new ReliableChangeResult(
            error,
            difference,
            (after - before) / difference,
            Distributions.NormalMultiplier(confidence) * difference
        );
    }

    /// <summary>Cut a: two SDs from the mean of those with the difficulty, towards the others.</summary>
    public static double CutA(double difficultMean, double difficultDeviation, bool higherIsBetter) =>
        difficultMean + (higherIsBetter ? 2 : -2) * difficultDeviation;

    /// <summary>Cut b: two SDs from the mean of those without, towards the difficulty.</summary>
    public static double CutB(double otherMean, double otherDeviation, bool higherIsBetter) =>
        otherMean - (higherIsBetter ? 2 : -2) * otherDeviation;

    /// <summary>Cut c: as many SDs from one mean as from the other.</summary>
    public static double CutC(
        double difficultMean,
        double difficultDeviation,
        double otherMean,
        double otherDeviation
    )
    {
        Require.That(difficultDeviation + otherDeviation > 0, "Cut c needs an SD above 0.");
        return ((otherDeviation * difficultMean) + (difficultDeviation * otherMean))
            / (difficultDeviation + otherDeviation);
    }

    /// <summary>Change minus the mean practice effect, over s₁√(2(1 − r)).</summary>
    public static double Chelune(double change, double meanPractice, double deviation, double reliability) =>
        (change - meanPractice) / JacobsonTruax(0, 0, deviation, reliability).DifferenceError;

    /// <summary>Change minus practice, over the root of both measurements' squared errors.</summary>
    public static double Iverson(
        double change,
        double meanPractice,
        double firstDeviation,
        double secondDeviation,
        double reliability
    )
    {
        var error = Math.Sqrt(
            (Math.Pow(firstDeviation, 2) + Math.Pow(secondDeviation, 2)) * (1 - reliability)
        );
        Require.That(error > 0, "A change index needs scores that vary and a reliability below 1.");
        return (change - meanPractice) / error;
    }
}
