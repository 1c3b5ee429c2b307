using MathNet.Numerics.LinearAlgebra;

namespace ProtocolKit.Calibration.Reliability;

/// <summary>McDonald's omega by Schmid–Leiman.</summary>
/// <param name="Hierarchical">Share of the total's variance due to the general factor.</param>
/// <param name="Total">Share due to all common factors.</param>
public sealed record OmegaResult(double Hierarchical, double Total)
{
    /// <summary>Hierarchical over total: what the general factor would reach in an endless test.</summary>
    public double Limit => Hierarchical / Total;
}

/// <summary>
/// Omega: McDonald RP (1999) Test Theory, chapter 6; hierarchical form Zinbarg RE, Revelle W, Yovel I, Li W (2005)
/// Psychometrika 70:123-133, from minimum residual factors, quartimin rotation and Schmid–Leiman. The hierarchical form
/// depends on extraction and rotation (about 0.005); the one-factor form is the one to report for a short scale.
/// </summary>
public static class Omega
{
    /// <summary>(Σ loadings)² / ((Σ loadings)² + Σ(1 − loading²)) of one maximum likelihood factor.</summary>
    public static double OneFactor(Matrix<double> correlations) =>
        OneFactor(FactorAnalysis.OneFactor(correlations));

    /// <summary>The same from loadings.</summary>
    public static double OneFactor(IReadOnlyList<double> loadings)
    {
        var common = Math.Pow(loadings.Sum(), 2);
        return common / (common + loadings.Sum(l => 1 - (l * l)));
    }

    /// <summary>
    /// Hierarchical and total omega with at least two group factors. Two factors' one correlation says nothing of how each
    /// loads on the general factor: both loadings are taken as its root.
    /// </summary>
    public static OmegaResult SchmidLeiman(Matrix<double> correlations, int factors = 3)
    {
        Require.AtLeast(factors, 2, "Group factors of the hierarchical omega");
        var unrotated = FactorAnalysis.MinimumResidual(correlations, factors);
        var (pattern, between) = FactorAnalysis.Quartimin(unrotated);
        for (var f = 0; f < factors; f++)
        {
            if (pattern.Column(f).Sum() < 0)
            {
                pattern.SetColumn(f, -pattern.Column(f));
                between.SetColumn(f, -between.Column(f));
                between.SetRow(f, -between.Row(f));
            }
        }

        Require.That(
            factors > 2 || between[0, 1] > 0,
            "Two group factors that don't go together have no general factor."
        );
        var second =
            factors > 2
                ? FactorAnalysis.MinimumResidual(between, 1).Column(0)
                : Vector<double>.Build.Dense(2, Math.Sqrt(between[0, 1]));
        var general = pattern * second;
        var total = correlations.Enumerate().Sum();
        var unique = Enumerable
            .Range(0, correlations.RowCount)
            .Sum(i => 1 - unrotated.Row(i).DotProduct(unrotated.Row(i)));
        return new OmegaResult(Math.Pow(general.Sum(), 2) / total, 1 - (unique / total));
    }
}
