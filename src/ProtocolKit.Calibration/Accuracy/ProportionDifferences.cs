namespace ProtocolKit.Calibration.Accuracy;

/// <summary>
/// Intervals for the difference of two proportions by Newcombe's hybrid of Wilson intervals. Independent groups:
/// Newcombe RG (1998) Statistics in Medicine 17:873-890, method 10. Same children twice: Newcombe RG (1998)
/// Statistics in Medicine 17:2635-2650, methods 8 (profile) and 10 (score, corrected correlation).
/// </summary>
public static class ProportionDifferences
{
    /// <summary>x1/n1 − x2/n2 of two different groups.</summary>
    public static Interval Independent(double x1, double n1, double x2, double n2, double confidence = 0.95)
    {
        var (p1, p2) = (x1 / n1, x2 / n2);
        var first = ProportionIntervals.Wilson(x1, n1, confidence);
        var second = ProportionIntervals.Wilson(x2, n2, confidence);
        return new Interval(
            p1 - p2 - Hypotenuse(p1 - first.Low, second.High - p2, 0),
            p1 - p2 + Hypotenuse(first.High - p1, p2 - second.Low, 0)
        );
    }

    /// <summary>
    /// The paired difference (f − g)/n of a table e (both), f (first only), g (second only), h (neither), method 10:
    /// the correlation of the two sides is corrected for continuity where it is positive.
    /// </summary>
    public static Interval Paired(double e, double f, double g, double h, double confidence = 0.95) =>
        Paired(e, f, g, h, confidence, Corrected(e, f, g, h));

    /// <summary>Method 8 of the same paper: as method 10 without the correction.</summary>
    public static Interval PairedUncorrected(
        double e,
        double f,
        double g,
        double h,
        double confidence = 0.95
    ) => Paired(e, f, g, h, confidence, (e * h) - (f * g));

    private static Interval Paired(double e, double f, double g, double h, double confidence, double cross)
    {
        var n = e + f + g + h;
        Require.That(
            n > 0 && Math.Min(Math.Min(e, f), Math.Min(g, h)) >= 0,
            "A paired table needs counts of zero or more and at least one pair."
        );
        var (p1, p2) = ((e + f) / n, (e + g) / n);
        var first = ProportionIntervals.Wilson(e + f, n, confidence);
        var second = ProportionIntervals.Wilson(e + g, n, confidence);
        var margins = (e + f) * (g + h) * (e + g) * (f + h);
        var phi = margins > 0 ? cross / Math.Sqrt(margins) : 0;
        return new Interval(
            p1 - p2 - Hypotenuse(p1 - first.Low, second.High - p2, phi),
            p1 - p2 + Hypotenuse(first.High - p1, p2 - second.Low, phi)
        );
    }

    private static double Corrected(double e, double f, double g, double h)
    {
        var cross = (e * h) - (f * g);
        return cross <= 0 ? cross : Math.Max(0, cross - ((e + f + g + h) / 2));
    }

    private static double Hypotenuse(double a, double b, double phi) =>
        Math.Sqrt(Math.Max(0, (a * a) - (2 * phi * a * b) + (b * b)));
}
