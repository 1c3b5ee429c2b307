using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Accuracy;

/// <summary>
/// Intervals for one proportion x of n. Methods and names of Newcombe RG (1998) Statistics in Medicine 17:857-872;
/// Agresti A, Coull BA (1998) Am Stat 52:119-126; Brown LD, Cai TT, DasGupta A (2001) Stat Sci 16:101-133 (Jeffreys).
/// Wilson's is our default: it holds for small n and near 0 and 1, where Wald's collapses. x may be fractional
/// for Wilson, Wald and Agresti–Coull only. n must be at least 1.
/// </summary>
public static class ProportionIntervals
{
    /// <summary>p ± z √(p(1 − p)/n); may leave 0 to 1.</summary>
    public static Interval Wald(double x, double n, double confidence = 0.95)
    {
        var (p, z) = Check(x, n, confidence);
        return Interval.Around(p, z * Math.Sqrt(p * (1 - p) / n));
    }

    /// <summary>Wald's with 1/(2n) added on both sides.</summary>
    public static Interval WaldCorrected(double x, double n, double confidence = 0.95)
    {
        var (p, z) = Check(x, n, confidence);
        return Interval.Around(p, (z * Math.Sqrt(p * (1 - p) / n)) + (1 / (2 * n)));
    }

    /// <summary>Wilson's score interval (Wilson EB (1927) J Am Stat Assoc 22:209-212).</summary>
    public static Interval Wilson(double x, double n, double confidence = 0.95)
    {
        var (p, z) = Check(x, n, confidence);
        var middle = (2 * n * p) + (z * z);
        var half = z * Math.Sqrt((z * z) + (4 * n * p * (1 - p)));
        var scale = 2 * (n + (z * z));
        return new Interval(x == 0 ? 0 : (middle - half) / scale, x == n ? 1 : (middle + half) / scale);
    }

    /// <summary>Wilson's score interval with continuity correction.</summary>
    public static Interval WilsonCorrected(double x, double n, double confidence = 0.95)
    {
        var (p, z) = Check(x, n, confidence);
        var q = 1 - p;
        var scale = 2 * (n + (z * z));
        var middle = (2 * n * p) + (z * z);
        var low = middle - 1 - (z * Math.Sqrt((z * z) - 2 - (1 / n) + (4 * p * ((n * q) + 1))));
        var high = middle + 1 + (z * Math.Sqrt((z * z) + 2 - (1 / n) + (4 * p * ((n * q) - 1))));
        return new Interval(x == 0 ? 0 : Math.Max(0, low / scale), x == n ? 1 : Math.Min(1, high / scale));
    }

    /// <summary>The exact interval (Clopper CJ, Pearson ES (1934) Biometrika 26:404-413).</summary>
    public static Interval ClopperPearson(double x, double n, double confidence = 0.95)
    {
        Check(x, n, confidence);
        var tail = (1 - confidence) / 2;
        return new Interval(
            x == 0 ? 0 : Distributions.BetaQuantile(tail, x, n - x + 1),
            x == n ? 1 : Distributions.BetaQuantile(1 - tail, x + 1, n - x)
        );
    }

    /// <summary>The exact interval with half the probability of what was observed (mid-P).</summary>
    public static Interval MidP(double x, double n, double confidence = 0.95)
    {
        Check(x, n, confidence);
        var (k, trials, tail) = (Whole(x), Whole(n), (1 - confidence) / 2);
        double Above(double p) =>
            Distributions.BinomialUpper(k + 1, trials, p)
            + (Distributions.BinomialPmf(k, trials, p) / 2)
            - tail;
        double Below(double p) =>
            Distributions.BinomialCdf(k - 1, trials, p)
            + (Distributions.BinomialPmf(k, trials, p) / 2)
            - tail;
        return new Interval(k == 0 ? 0 : Root(Above, 0, x / n), k == trials ? 1 : Root(Below, x / n, 1));
    }

    /// <summary>All proportions whose likelihood is not too far below the best (likelihood ratio).</summary>
    public static Interval Likelihood(double x, double n, double confidence = 0.95)
    {
        var (p, z) = Check(x, n, confidence);
        double Log(double at) => Term(x, at) + Term(n - x, 1 - at);
        var best = Log(p);
        double Fall(double at) => (2 * (best - Log(at))) - (z * z);
        return new Interval(x == 0 ? 0 : Root(Fall, 0, p), x == n ? 1 : Root(Fall, p, 1));
    }

    /// <summary>Wald's after adding z²/2 successes and failures; may leave 0 to 1.</summary>
    public static Interval AgrestiCoull(double x, double n, double confidence = 0.95)
    {
        var (_, z) = Check(x, n, confidence);
        var trials = n + (z * z);
        var p = (x + (z * z / 2)) / trials;
        return Interval.Around(p, z * Math.Sqrt(p * (1 - p) / trials));
    }

    /// <summary>Equal tails of the beta posterior with Jeffreys' prior; 0 at x = 0 and 1 at x = n.</summary>
    public static Interval Jeffreys(double x, double n, double confidence = 0.95)
    {
        Check(x, n, confidence);
        var tail = (1 - confidence) / 2;
        return new Interval(
            x == 0 ? 0 : Distributions.BetaQuantile(tail, x + 0.5, n - x + 0.5),
            x == n ? 1 : Distributions.BetaQuantile(1 - tail, x + 0.5, n - x + 0.5)
        );
    }

    private static (double P, double Z) Check(double x, double n, double confidence)
    {
        Require.That(n > 0 && double.IsFinite(n), "A proportion needs at least one case.");
        Require.That(x >= 0 && x <= n, "A proportion's count lies between 0 and the number of cases.");
        return (x / n, Distributions.NormalMultiplier(confidence));
    }

    private static int Whole(double count)
    {
        Require.That(count == Math.Floor(count), "This interval needs whole counts.");
        return (int)count;
    }

    private static double Term(double count, double p) => count == 0 ? 0 : count * Math.Log(p);

    private static double Root(Func<double, double> function, double low, double high) =>
        Bisection.Root(function, low, high);
}
