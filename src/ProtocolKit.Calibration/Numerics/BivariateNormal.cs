using MathNet.Numerics.Integration;

namespace ProtocolKit.Calibration.Numerics;

/// <summary>The standard bivariate normal distribution.</summary>
public static class BivariateNormal
{
    private const int Panels = 8;

    private static readonly GaussLegendreRule Rule = new(0, 1, 64);

    /// <summary>
    /// P(X ≤ h, Y ≤ k) with correlation rho, by Plackett's identity in the form of Drezner and Wesolowsky:
    /// Φ(h)Φ(k) + 1/(2π) ∫₀^asin(rho) exp(−(h² + k² − 2hk sin θ) / (2cos² θ)) dθ, integrated by Gauss–Legendre panels.
    /// Source: Drezner Z, Wesolowsky GO (1990) J Stat Comput Simul 35:101-107. rho from −1 to 1.
    /// </summary>
    public static double Cdf(double h, double k, double rho)
    {
        Require.That(rho is >= -1 and <= 1, "A correlation lies between -1 and 1.");
        if (rho == 1)
        {
            return Distributions.NormalCdf(Math.Min(h, k));
        }

        if (rho == -1)
        {
            return Math.Max(0, Distributions.NormalCdf(h) - Distributions.NormalCdf(-k));
        }

        var end = Math.Asin(rho);
        var sum = 0.0;
        for (var panel = 0; panel < Panels; panel++)
        {
            // Panels shrink towards the end, where cos θ may come close to zero.
            var (from, to) = (end * Share(panel), end * Share(panel + 1));
            for (var i = 0; i < Rule.Order; i++)
            {
                var angle = from + ((to - from) * Rule.GetAbscissa(i));
                sum += Rule.GetWeight(i) * (to - from) * Integrand(h, k, angle);
            }
        }

        return (Distributions.NormalCdf(h) * Distributions.NormalCdf(k)) + (sum / (2 * Math.PI));
    }

    private static double Share(int panel) => panel == Panels ? 1 : 1 - Math.Pow(0.25, panel);

    private static double Integrand(double h, double k, double angle)
    {
        var (sine, cosine) = Math.SinCos(angle);
        return Math.Exp(-((h * h) + (k * k) - (2 * h * k * sine)) / (2 * cosine * cosine));
    }
}
