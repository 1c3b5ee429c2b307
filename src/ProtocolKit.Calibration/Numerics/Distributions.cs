using MathNet.Numerics;
using D = MathNet.Numerics.Distributions;

namespace ProtocolKit.Calibration.Numerics;

/// <summary>
/// Distribution functions and quantiles, all from Math.NET Numerics (MIT). Upper tails are computed as tails, not as
/// 1 minus the other side, so small p-values keep their digits. Quantiles of Math.NET are refined by Newton steps on
/// its own distribution function where its search stops at an absolute error.
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

        var tail = Math.Min(p, 1 - p);
        var start = -D.StudentT.InvCDF(0, 1, df, tail);
        var t = Refine(
            start,
            t => tail - StudentUpper(t, df),
            t => D.StudentT.PDF(0, 1, df, t),
            0,
            double.MaxValue
        );
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
        var start = D.FisherSnedecor.InvCDF(df1, df2, Probability(p));
        return Refine(
            start,
            f => FisherCdf(f, df1, df2) - p,
            f => D.FisherSnedecor.PDF(df1, df2, f),
            0,
            double.MaxValue
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
        var start = D.ChiSquared.InvCDF(df, Probability(p));
        return Refine(start, x => ChiSquareCdf(x, df) - p, x => D.ChiSquared.PDF(df, x), 0, double.MaxValue);
    }

    /// <summary>P(B ≤ x), beta with shapes a and b on 0 to 1.</summary>
    public static double BetaCdf(double x, double a, double b) =>
        x <= 0 ? 0
        : x >= 1 ? 1
        : SpecialFunctions.BetaRegularized(a, b, x);

    /// <summary>x with P(B ≤ x) = p.</summary>
    public static double BetaQuantile(double p, double a, double b)
    {
        var start = D.Beta.InvCDF(a, b, Probability(p));
        return Refine(start, x => BetaCdf(x, a, b) - p, x => D.Beta.PDF(a, b, x), 0, 1);
    }

    /// <summary>P(X = k), binomial with n trials of probability p.</summary>
    public static double BinomialPmf(int k, int n, double p) => k < 0 || k > n ? 0 : D.Binomial.PMF(p, n, k);

    /// <summary>P(X ≤ k), binomial with n trials of probability p.</summary>
    public static double BinomialCdf(int k, int n, double p) =>
        k < 0 ? 0
        : k >= n ? 1
        : SpecialFunctions.BetaRegularized(n - k, k + 1, 1 - p);

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

    private static double Refine(
        double start,
        Func<double, double> excess,
        Func<double, double> density,
        double least,
        double most
    )
    {
        var x = start;
        for (var step = 0; step < 20; step++)
        {
            var slope = density(x);
            var next = x - (excess(x) / slope);
            if (!double.IsFinite(next) || next <= least || next >= most)
            {
                return x;
            }

            if (Math.Abs(next - x) <= 1e-15 * Math.Abs(x))
            {
                return next;
            }

            x = next;
        }

        return x;
    }
}
