using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.CutOffs;

/// <summary>Agreement of two decisions about the same child, and kappa.</summary>
public sealed record ConsistencyResult(double Agreement, double Chance)
{
    /// <summary>Null where chance agreement is complete.</summary>
    public double? Kappa => Chance < 1 ? (Agreement - Chance) / (1 - Chance) : null;
}

/// <summary>How consistently a cut divides children, from one administration.</summary>
public static class DecisionConsistency
{
    /// <summary>
    /// Two parallel totals as bivariate normal with correlation = reliability: Peng CJ, Subkoviak MJ (1980) J Educ Meas
    /// 17:359-368; Subkoviak MJ (1988) 25:47-55. z = (cut − ½ − mean) / SD.
    /// </summary>
    public static ConsistencyResult BivariateNormal(double z, double reliability)
    {
        var below = Distributions.NormalCdf(z);
        return new ConsistencyResult(
            1 + (2 * (Numerics.BivariateNormal.Cdf(z, z, reliability) - below)),
            1 - (2 * (below - (below * below)))
        );
    }

    /// <summary>
    /// Subkoviak MJ (1976) J Educ Meas 13:265-276: each child's true share is regressed to the mean by the reliability,
    /// totals are binomial. Gives shares, each child's own consistency, and the result.
    /// </summary>
    public static (
        IReadOnlyList<double> Shares,
        IReadOnlyList<double> Own,
        ConsistencyResult Result
    ) Binomial(IReadOnlyList<double> totals, int items, int cut, double reliability)
    {
        Require.AtLeast(totals.Count, 1, "Totals");
        var mean = Descriptive.Mean(totals);
        var shares = totals.Select(t => ((reliability * t) + ((1 - reliability) * mean)) / items).ToArray();
        var pass = shares.Select(p => Distributions.BinomialUpper(cut, items, Math.Clamp(p, 0, 1))).ToArray();
        var own = pass.Select(p => (p * p) + ((1 - p) * (1 - p))).ToArray();
        var all = pass.Average();
        return (shares, own, new ConsistencyResult(own.Average(), (all * all) + ((1 - all) * (1 - all))));
    }

    /// <summary>Livingston SA (1972) J Educ Meas 9:13-26: squared-error dependability about the cut; population variance.</summary>
    public static double LivingstonK2(IReadOnlyList<double> totals, double cut, double reliability)
    {
        var variance = Descriptive.PopulationVariance(totals);
        var distance = Math.Pow(Descriptive.Mean(totals) - cut, 2);
        Require.That(variance + distance > 0, "K² can't be computed: every total is at the cut.");
        return ((reliability * variance) + distance) / (variance + distance);
    }

    /// <summary>
    /// Brown's short-cut Φ of domain scores (Brown JD (1990) Language Testing 7:77-97) from totals over k items and a
    /// reliability such as KR-20; population variance of shares, n/(n − 1) where the formula has it.
    /// </summary>
    public static double ShortcutPhi(IReadOnlyList<double> totals, int items, double reliability)
    {
        double n = totals.Count;
        var shares = totals.Select(t => t / items).ToArray();
        var (mean, variance) = (Descriptive.Mean(shares), Descriptive.PopulationVariance(shares));
        var signal = n * variance / (n - 1) * reliability;
        return signal / (signal + (((mean * (1 - mean)) - variance) / (items - 1)));
    }

    /// <summary>Brennan's short-cut Φ(λ) (Brennan RL (1984)): 1 − [M(1 − M) − s²] / ((k − 1)[(M − λ)² + s²]) of shares.</summary>
    public static double ShortcutPhiLambda(IReadOnlyList<double> totals, int items, double lambda)
    {
        var shares = totals.Select(t => t / items).ToArray();
        var (mean, variance) = (Descriptive.Mean(shares), Descriptive.PopulationVariance(shares));
        var bottom = Math.Pow(mean - lambda, 2) + variance;
        Require.That(bottom > 0, "Phi(lambda) can't be computed: every total is at lambda.");
        return 1 - (((mean * (1 - mean)) - variance) / ((items - 1) * bottom));
    }
}
