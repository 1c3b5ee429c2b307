using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Accuracy;

/// <summary>A share with three intervals.</summary>
public sealed record Share(double Estimate, Interval Wilson, Interval ClopperPearson, Interval Wald);

/// <summary>A ratio with the interval of its logarithm. Infinite or null estimates have no interval.</summary>
/// <param name="Estimate">Null where it is 0/0 or an odds ratio without true results on one side.</param>
public sealed record Ratio(double? Estimate, double? LogError, Interval? Interval);

/// <summary>
/// A screen against a reference: true and false positives and negatives. Shares with Wilson, exact and Wald
/// intervals; likelihood ratios with intervals of Simel DL, Samsa GP, Matchar DB (1991) J Clin Epidemiol 44:763-770;
/// the odds ratio's by Woolf B (1955) Ann Hum Genet 19:251-253. Zero cells leave ratios infinite or undefined;
/// <see cref="PlusHalf"/> adds ½ to every cell for ratios only (Haldane–Anscombe), never for shares.
/// </summary>
public sealed record DiagnosticTable(
    double TruePositives,
    double FalsePositives,
    double FalseNegatives,
    double TrueNegatives
)
{
    public double Cases => TruePositives + FalseNegatives;

    public double Controls => FalsePositives + TrueNegatives;

    public double Total => Cases + Controls;

    /// <summary>This table with ½ added to each cell.</summary>
    public DiagnosticTable PlusHalf() =>
        new(TruePositives + 0.5, FalsePositives + 0.5, FalseNegatives + 0.5, TrueNegatives + 0.5);

    public Share? Sensitivity(double confidence = 0.95) => ShareOf(TruePositives, Cases, confidence);

    public Share? Specificity(double confidence = 0.95) => ShareOf(TrueNegatives, Controls, confidence);

    public Share? PositivePredictive(double confidence = 0.95) =>
        ShareOf(TruePositives, TruePositives + FalsePositives, confidence);

    public Share? NegativePredictive(double confidence = 0.95) =>
        ShareOf(TrueNegatives, TrueNegatives + FalseNegatives, confidence);

    public Share? Accuracy(double confidence = 0.95) =>
        ShareOf(TruePositives + TrueNegatives, Total, confidence);

    /// <summary>The share of cases in the table; it is no prevalence unless children were sampled as they come.</summary>
    public Share? Prevalence(double confidence = 0.95) => ShareOf(Cases, Total, confidence);

    /// <summary>The share of positive screens.</summary>
    public Share? ApparentPrevalence(double confidence = 0.95) =>
        ShareOf(TruePositives + FalsePositives, Total, confidence);

    /// <summary>Sensitivity / (1 − specificity).</summary>
    public Ratio LikelihoodPositive(double confidence = 0.95) =>
        RatioOf(TruePositives, Cases, FalsePositives, Controls, confidence);

    /// <summary>(1 − sensitivity) / specificity.</summary>
    public Ratio LikelihoodNegative(double confidence = 0.95) =>
        RatioOf(FalseNegatives, Cases, TrueNegatives, Controls, confidence);

    /// <summary>The diagnostic odds ratio: infinite without false results on one side, null without true ones.</summary>
    public Ratio OddsRatio(double confidence = 0.95)
    {
        var product = FalsePositives * FalseNegatives;
        if (TruePositives == 0 || TrueNegatives == 0)
        {
            return new Ratio(null, null, null);
        }

        if (product == 0)
        {
            return new Ratio(double.PositiveInfinity, null, null);
        }

        var error = Math.Sqrt(
            (1 / TruePositives) + (1 / FalsePositives) + (1 / FalseNegatives) + (1 / TrueNegatives)
        );
        return WithInterval(TruePositives * TrueNegatives / product, error, confidence);
    }

    /// <summary>Sensitivity + specificity − 1 (Youden WJ (1950) Cancer 3:32-35); null without cases or without controls.</summary>
    public double? Youden =>
        Cases > 0 && Controls > 0 ? (TruePositives / Cases) + (TrueNegatives / Controls) - 1 : null;

    /// <summary>1 / Youden's index; null where that is 0.</summary>
    public double? NumberNeededToDiagnose => Youden is { } j && j != 0 ? 1 / j : null;

    /// <summary>The mean of sensitivity and specificity.</summary>
    public double? BalancedAccuracy => Youden is { } j ? (j + 1) / 2 : null;

    /// <summary>2TP / (2TP + FP + FN); null where nobody is positive on either side.</summary>
    public double? F1 =>
        (2 * TruePositives) + FalsePositives + FalseNegatives is > 0 and var sum
            ? 2 * TruePositives / sum
            : null;

    /// <summary>Matthews' correlation; null where a margin is empty.</summary>
    public double? Matthews
    {
        get
        {
            var margins =
                (TruePositives + FalsePositives) * Cases * Controls * (TrueNegatives + FalseNegatives);
            return margins > 0
                ? ((TruePositives * TrueNegatives) - (FalsePositives * FalseNegatives)) / Math.Sqrt(margins)
                : null;
        }
    }

    private static Share? ShareOf(double x, double n, double confidence) =>
        n > 0
            ? new Share(
                x / n,
                ProportionIntervals.Wilson(x, n, confidence),
                ProportionIntervals.ClopperPearson(x, n, confidence),
                ProportionIntervals.Wald(x, n, confidence)
            )
            : null;

    private static Ratio RatioOf(double a, double n, double b, double m, double confidence)
    {
        if (n == 0 || m == 0 || (a == 0 && b == 0))
        {
            return new Ratio(null, null, null);
        }

        if (b == 0)
        {
            return new Ratio(double.PositiveInfinity, null, null);
        }

        return a == 0
            ? new Ratio(0, null, null)
            : WithInterval(a / n / (b / m), Math.Sqrt((1 / a) - (1 / n) + (1 / b) - (1 / m)), confidence);
    }

    private static Ratio WithInterval(double estimate, double error, double confidence)
    {
        var half = Distributions.NormalMultiplier(confidence) * error;
        return new Ratio(
            estimate,
            error,
            new Interval(estimate * Math.Exp(-half), estimate * Math.Exp(half))
        );
    }
}
