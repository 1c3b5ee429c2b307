namespace ProtocolKit.Calibration.Accuracy;

/// <summary>
/// Predictive values at a stated prevalence by Bayes' theorem. Source: Altman DG, Bland JM (1994) BMJ 309:102.
/// All arguments are shares from 0 to 1. Null where nobody would be positive (or negative).
/// </summary>
public static class PredictiveValues
{
    public static double? Positive(double sensitivity, double specificity, double prevalence) =>
        Share(sensitivity * prevalence, (1 - specificity) * (1 - prevalence), prevalence);

    public static double? Negative(double sensitivity, double specificity, double prevalence) =>
        Share(specificity * (1 - prevalence), (1 - sensitivity) * prevalence, prevalence);

    /// <summary>The positive predictive value by way of pre-test odds and likelihood ratio; the same number.</summary>
    public static double? ByOdds(double sensitivity, double specificity, double prevalence)
    {
        if (specificity >= 1 || prevalence >= 1)
        {
            return Positive(sensitivity, specificity, prevalence);
        }

        var odds = prevalence / (1 - prevalence) * (sensitivity / (1 - specificity));
        return odds / (1 + odds);
    }

    private static double? Share(double right, double wrong, double prevalence)
    {
        Require.That(prevalence is >= 0 and <= 1, "A prevalence lies between 0 and 1.");
        return right + wrong > 0 ? right / (right + wrong) : null;
    }
}
