namespace ProtocolKit.Calibration.Agreement;

/// <summary>
/// The verbal labels of Landis JR, Koch GG (1977) Biometrics 33:159-174, section 3.2. The printed ranges leave gaps
/// (0.20 to 0.21), so limits apply to the unrounded value: above 0.20 is "Fair". The authors call their
/// divisions clearly arbitrary; a label never stands without its number and interval.
/// </summary>
public static class KappaLabels
{
    /// <summary>Upper limits, included, and their labels; below zero is "Poor".</summary>
    public static readonly IReadOnlyList<(double UpTo, string Label)> Bands =
    [
        (0.20, "Slight"),
        (0.40, "Fair"),
        (0.60, "Moderate"),
        (0.80, "Substantial"),
        (1.00, "Almost Perfect"),
    ];

    /// <summary>The label of a kappa from −1 to 1.</summary>
    public static string Of(double kappa) =>
        kappa < 0 ? "Poor" : Bands.FirstOrDefault(b => kappa <= b.UpTo, Bands[^1]).Label;
}
