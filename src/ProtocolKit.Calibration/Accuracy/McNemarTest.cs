using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Accuracy;

/// <summary>McNemar's test of two paired proportions.</summary>
public sealed record McNemarResult(
    double ChiSquareCorrected,
    double PCorrected,
    double ChiSquare,
    double P,
    double PExact
);

/// <summary>
/// Did the share of a paired yes/no change? Source: McNemar Q (1947) Psychometrika 12:153-157; continuity
/// correction after Edwards AL (1948); exact: binomial with p = ½ on the discordant pairs.
/// </summary>
public static class McNemarTest
{
    /// <summary>b and c are the discordant counts: yes then no, no then yes.</summary>
    public static McNemarResult Of(double b, double c)
    {
        Require.That(b >= 0 && c >= 0, "Counts must be zero or more.");
        Require.That(b + c > 0, "McNemar's test can't be done: no child changed from one side to the other.");
        var corrected = Math.Pow(Math.Max(0, Math.Abs(b - c) - 1), 2) / (b + c);
        var plain = Math.Pow(b - c, 2) / (b + c);
        var exact = Math.Min(1, 2 * Distributions.BinomialCdf((int)Math.Min(b, c), (int)(b + c), 0.5));
        return new McNemarResult(
            corrected,
            Distributions.ChiSquareUpper(corrected, 1),
            plain,
            Distributions.ChiSquareUpper(plain, 1),
            exact
        );
    }
}
