using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Norms;

/// <summary>
/// Distribution-free limits of a percentile: the values between which it lies with the wanted confidence, from the binomial
/// distribution of how many lie below. David HA, Nagaraja HN (2003) Order Statistics, 3rd ed., section 7.1.
/// </summary>
public static class PercentileLimits
{
    /// <summary>The widest values with at most half the doubt on either side; null where so few values can't say.</summary>
    /// <param name="share">The percentile as a share, such as 0.05.</param>
    public static (double? Low, double? High) Of(
        IReadOnlyList<double> values,
        double share,
        double confidence = 0.95
    )
    {
        Require.Level(confidence);
        Require.That(share is > 0 and < 1, "A percentile lies between 0 and 100, both excluded.");
        var sorted = values.Order().ToList();
        var tail = (1 - confidence) / 2;
        var below = Enumerable
            .Range(0, sorted.Count)
            .Select(k => Distributions.BinomialCdf(k, sorted.Count, share))
            .ToList();
        var low = below.FindLastIndex(p => p <= tail);
        var high = below.FindIndex(p => p >= 1 - tail);
        return (low < 0 ? null : sorted[low], high < 0 ? null : sorted[high]);
    }
}
