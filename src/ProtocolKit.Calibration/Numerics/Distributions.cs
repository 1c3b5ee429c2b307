using MathNet.Numerics;
using D = MathNet.Numerics.Distributions;

namespace ProtocolKit.Calibration.Numerics;

/// <summary>
/// Distribution functions and quantiles, all from Math.NET Numerics (MIT). Upper tails are computed as tails, not as
/// 1 minus the other side, so small p-values keep their digits. Quantiles are found on Math.NET's distribution functions
/// (<see cref="PositiveQuantile"/>): its own searches stop at an absolute error, or fail with few degrees of freedom.
/// </summary>
public static class Distributions
{
    /// <summary>P(Z ≤ z), Z standard normal.</summary>
    public static double NormalCdf(double z) => D.Normal.CDF(0, 1, z);

    /// <summary>Density of the standard normal distribution.</summary>
    public static double NormalPdf(double z) => D.Normal.PDF(0, 1, z);

    /// <summary>z with P(Z ≤ z) = p.</summary>
    public static double NormalQuantile(double p) => D.Normal.InvCDF(0, 1, Probability(p));

    /// <summary>P(|Z| ≥ |z|).</summary>
    public static double NormalTwoSided(double z) => 2 * NormalCdf(-Math.Abs(z));

    /// <summary>The multiplier of a two-sided normal interval: 1.96 at 0.95.</summary>
    public static double NormalMultiplier(double confidence)
    {
        Require.Level(confidence);
        return NormalQuantile((1 + confidence) / 2);
    }

    /// <summary>P(T ≤ t), Student's t with df degrees of freedom, which need not be whole.</summary>
    public static double StudentCdf(double t, double df) =>
        t <= 0 ? StudentUpper(-t, df) : 1 - StudentUpper(t, df);

    /// <summary>P(T ≥ t) for t ≥ 0, as a tail.</summary>
    public static double StudentUpper(double t, double df) =>
        t < 0 ? 1 - StudentUpper(-t, df)
        : double.IsPositiveInfinity(t) ? 0
        : 0.5 * SpecialFunctions.BetaRegularized(df / 2, 0.5, df / (df + (t * t)));

    /// <summary>P(|T| ≥ |t|).</summary>
    public static double StudentTwoSided(double t, double df) => 2 * StudentUpper(Math.Abs(t), df);

    /// <summary>t with P(T ≤ t) = p.</summary>
    public static double StudentQuantile(double p, double df)
    {
        if (Probability(p) == 0.5)
        {
            return 0;
        }

        Require.That(df > 0, "Student's t needs degrees of freedom above 0.");
        var tail = Math.Min(p, 1 - p);
        var t = PositiveQuantile.Of(t => tail - StudentUpper(t, df), t => D.StudentT.PDF(0, 1, df, t));
        return p < 0.5 ? -t : t;
    }

    /// <summary>The multiplier of a two-sided t interval.</summary>
    public static double StudentMultiplier(double confidence, double df)
    {
        Require.Level(confidence);
        return StudentQuantile((1 + confidence) / 2, df);
    }

    /// <summary>P(F ≤ f), Fisher's F with df1 and df2 degrees of freedom, which need not be whole.</summary>
    public static double FisherCdf(double f, double df1, double df2) =>
        f <= 0 ? 0 : SpecialFunctions.BetaRegularized(df1 / 2, df2 / 2, df1 * f / ((df1 * f) + df2));

    /// <summary>P(F ≥ f), as a tail.</summary>
    public static double FisherUpper(double f, double df1, double df2) =>
        f <= 0 ? 1
        : double.IsPositiveInfinity(f) ? 0
        : SpecialFunctions.BetaRegularized(df2 / 2, df1 / 2, df2 / ((df1 * f) + df2));

    /// <summary>f with P(F ≤ f) = p; df1 and df2 need not be whole.</summary>
    public static double FisherQuantile(double p, double df1, double df2)
    {
        Require.That(df1 > 0 && df2 > 0, "Fisher's F needs degrees of freedom above 0.");
        return Probability(p) <= 0.5
            ? PositiveQuantile.Of(f => FisherCdf(f, df1, df2) - p, f => D.FisherSnedecor.PDF(df1, df2, f))
            : PositiveQuantile.Of(
                f => 1 - p - FisherUpper(f, df1, df2),
                f => D.FisherSnedecor.PDF(df1, df2, f)
            );
    }

    /// <summary>P(X ≤ x), chi-square with df degrees of freedom.</summary>
    public static double ChiSquareCdf(double x, double df) =>
        x <= 0 ? 0 : SpecialFunctions.GammaLowerRegularized(df / 2, x / 2);

    /// <summary>P(X ≥ x), as a tail.</summary>
    public static double ChiSquareUpper(double x, double df) =>
        x <= 0 ? 1
        : double.IsPositiveInfinity(x) ? 0
        : df == 1 ? NormalTwoSided(Math.Sqrt(x))
        : SpecialFunctions.GammaUpperRegularized(df / 2, x / 2);

    /// <summary>x with P(X ≤ x) = p.</summary>
    public static double ChiSquareQuantile(double p, double df)
    {
        Require.That(df > 0, "Chi-square needs degrees of freedom above 0.");
        return Probability(p) <= 0.5
            ? PositiveQuantile.Of(x => ChiSquareCdf(x, df) - p, x => D.ChiSquared.PDF(df, x))
            : PositiveQuantile.Of(x => 1 - p - ChiSquareUpper(x, df), x => D.ChiSquared.PDF(df, x));
    }

    /// <summary>P(B ≤ x), beta with shapes a and b on 0 to 1.</summary>
    public static double BetaCdf(double x, double a, double b) =>
        x <= 0 ? 0
        : x >= 1 ? 1
        : SpecialFunctions.BetaRegularized(a, b, x);

    /// <summary>x with P(B ≤ x) = p.</summary>
    public static double BetaQuantile(double p, double a, double b)
    {
        Require.That(a > 0 && b > 0, "A beta distribution needs shapes above 0.");
        // Near 1 it is the distance from 1 that has digits, and that is a beta quantile too.
        return Probability(p) <= BetaCdf(0.5, a, b)
            ? BetaBelowHalf(p, 1 - p, a, b)
            : 1 - BetaBelowHalf(1 - p, p, b, a);
    }

    private static double BetaBelowHalf(double below, double above, double a, double b) =>
        below <= 0.5
            ? PositiveQuantile.Of(x => BetaCdf(x, a, b) - below, x => D.Beta.PDF(a, b, x), 0.5)
            : PositiveQuantile.Of(x => above - BetaCdf(1 - x, b, a), x => D.Beta.PDF(a, b, x), 0.5);

    /// <summary>P(X = k), binomial with n trials of probability p.</summary>
    public static double BinomialPmf(int k, int n, double p) => k < 0 || k > n ? 0 : D.Binomial.PMF(p, n, k);

    /// <summary>P(X ≤ k), binomial with n trials of probability p.</summary>
    public static double BinomialCdf(int k, int n, double p) =>
        k < 0 ? 0
        : k >= n ? 1
        : SpecialFunctions.BetaRegularized(n - k, k + 1, 1 - p);

    /// <summary>The least k with P(X ≤ k) ≥ p, binomial with n trials.</summary>
    public static int BinomialQuantile(double p, int n, double probability)
    {
        var (low, high) = (0, n);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) =
                BinomialCdf(middle, n, probability) >= Probability(p) ? (low, middle) : (middle + 1, high);
        }

        return low;
    }

    /// <summary>P(X ≥ k), as a tail.</summary>
    public static double BinomialUpper(int k, int n, double p) =>
        k <= 0 ? 1
        : k > n ? 0
        : SpecialFunctions.BetaRegularized(k, n - k + 1, p);

    /// <summary>The logarithm of the gamma function.</summary>
    public static double LogGamma(double x) => SpecialFunctions.GammaLn(x);

    /// <summary>The derivative of the logarithm of the gamma function.</summary>
    public static double Digamma(double x) => SpecialFunctions.DiGamma(x);

    private static double Probability(double p)
    {
        Require.That(p is > 0 and < 1, "A quantile needs a probability between 0 and 1, both excluded.");
        return p;
    }
}
