using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.CutOffs;

/// <summary>Mean, variance, skewness and kurtosis of a distribution.</summary>
public sealed record Moments(double Mean, double Variance, double Skewness, double Kurtosis);

/// <summary>A beta distribution of true shares between l and u.</summary>
public sealed record BetaShape(double Alpha, double Beta, double Lower, double Upper)
{
    public bool IsPermissible => Alpha > 0 && Beta > 0 && Lower >= 0 && Upper <= 1 && Lower < Upper;
}

/// <summary>
/// True-score moments from totals, and beta distributions that have them: Lord FM (1965) Psychometrika 30:239-270;
/// Hanson BA (1991) ACT Research Report 91-5. Totals are n trials (n need not be whole).
/// </summary>
public static class BetaFit
{
    /// <summary>Moments of totals with how often each occurs; population variance.</summary>
    public static Moments Observed(IReadOnlyList<double> totals, IReadOnlyList<double> counts)
    {
        var n = counts.Sum();
        Require.That(n > 0, "There are no totals.");
        var mean = Sum(t => t);
        var (second, third, fourth) = (
            Sum(t => Math.Pow(t - mean, 2)),
            Sum(t => Math.Pow(t - mean, 3)),
            Sum(t => Math.Pow(t - mean, 4))
        );
        Require.That(second > 0, "Every total is the same; no distribution can be fitted.");
        return new Moments(mean, second, third / Math.Pow(second, 1.5), fourth / (second * second));

        double Sum(Func<double, double> f) => totals.Zip(counts, (t, c) => c * f(t)).Sum() / n;
    }

    /// <summary>Raw moments of true shares: mean of x(x − 1)…(x − r + 1) over n(n − 1)…(n − r + 1).</summary>
    public static Moments True(IReadOnlyList<double> totals, IReadOnlyList<double> counts, double items)
    {
        Require.That(items > 3, "True-score moments need more than three items.");
        var all = counts.Sum();
        var raw = new double[5];
        for (var r = 1; r <= 4; r++)
        {
            var (order, bottom) = (r, Falling(items, r));
            raw[r] = totals.Zip(counts, (t, c) => c * Falling(t, order)).Sum() / all / bottom;
        }

        var (m, v) = (raw[1], raw[2] - (raw[1] * raw[1]));
        Require.That(
            v > 0,
            "The totals vary no more than chance alone would make them; no true-score distribution can be fitted."
        );
        var third = raw[3] - (3 * m * raw[2]) + (2 * m * m * m);
        var fourth = raw[4] - (4 * m * raw[3]) + (6 * m * m * raw[2]) - (3 * m * m * m * m);
        return new Moments(m, v, third / Math.Pow(v, 1.5), fourth / (v * v));
    }

    /// <summary>The beta with all four moments; its limits may leave 0 to 1. Null where no beta has them.</summary>
    public static BetaShape? FourParameters(Moments t)
    {
        var (s2, k) = (t.Skewness * t.Skewness, t.Kurtosis);
        var r = 6 * (k - s2 - 1) / (6 + (3 * s2) - (2 * k));
        if (!double.IsFinite(r) || r <= 0)
        {
            return null;
        }

        var lean = (r + 2) * t.Skewness / Math.Sqrt((Math.Pow(r + 2, 2) * s2) + (16 * (r + 1)));
        var (a, b) = (r / 2 * (1 - lean), r / 2 * (1 + lean));
        var unit = Math.Sqrt(t.Variance * (a + b + 1) / (a * b));
        return new BetaShape(a, b, t.Mean - (a * unit), t.Mean + (b * unit));
    }

    /// <summary>The beta on l to 1 with the first three moments; null where there is none with l from 0.</summary>
    public static BetaShape? ThreeParameters(Moments t)
    {
        // Far to the right the variance is more than any beta on l to 1 can have: no shape, so no gap to close there.
        double Gap(double lower) =>
            TwoParameters(t, lower, 1) is { Alpha: > 0, Beta: > 0 } shape
                ? Skewness(shape) - t.Skewness
                : double.NaN;
        const double Step = 1.0 / 2048;
        for (var l = 0.0; l + Step < t.Mean; l += Step)
        {
            var (from, to) = (Gap(l), Gap(l + Step));
            if (double.IsFinite(from) && double.IsFinite(to) && Math.Sign(from) != Math.Sign(to))
            {
                return TwoParameters(t, Bisection.Root(Gap, l, l + Step), 1) is { IsPermissible: true } shape
                    ? shape
                    : null;
            }
        }

        return null;
    }

    /// <summary>The beta between given limits with the first two moments.</summary>
    public static BetaShape TwoParameters(Moments t, double lower = 0, double upper = 1)
    {
        var width = upper - lower;
        var (m, v) = ((t.Mean - lower) / width, t.Variance / (width * width));
        var sum = (m * (1 - m) / v) - 1;
        return new BetaShape(m * sum, (1 - m) * sum, lower, upper);
    }

    private static double Skewness(BetaShape b) =>
        2
        * (b.Beta - b.Alpha)
        * Math.Sqrt(b.Alpha + b.Beta + 1)
        / ((b.Alpha + b.Beta + 2) * Math.Sqrt(b.Alpha * b.Beta));

    private static double Falling(double x, int order)
    {
        var product = 1.0;
        for (var i = 0; i < order; i++)
        {
            product *= x - i;
        }

        return product;
    }
}
