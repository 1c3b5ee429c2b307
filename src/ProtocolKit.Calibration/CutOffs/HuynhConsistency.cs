using ProtocolKit.Calibration.Reliability;

namespace ProtocolKit.Calibration.CutOffs;

/// <summary>
/// Decision consistency from one sitting by a beta-binomial distribution of totals that has their mean and variance: Huynh H
/// (1976) J Educ Meas 13:253-264. The same as Livingston and Lewis with as many items as there are and reliability KR-21.
/// </summary>
/// <param name="Kr21">Between 0 and 1.</param>
/// <param name="Shape">Of the true shares, on 0 to 1.</param>
public sealed record HuynhConsistency(double Kr21, BetaShape Shape, ClassificationResult Table)
{
    /// <param name="items">Points that can be reached, each right or wrong.</param>
    /// <param name="cut">Totals from here on belong to the upper category.</param>
    /// <exception cref="NotEstimableException">The totals vary less than chance alone would make them, or more than items allow.</exception>
    public static HuynhConsistency Of(int items, double mean, double variance, int cut)
    {
        var kr21 = KuderRichardson.Kr21(items, mean, variance);
        Require.That(
            kr21 is > 0 and < 1,
            "KR-21 is not between 0 and 1, so no beta-binomial distribution fits these totals."
        );
        var alpha = ((1 / kr21) - 1) * mean;
        var shape = new BetaShape(alpha, (items / kr21) - items - alpha, 0, 1);
        return new HuynhConsistency(
            kr21,
            shape,
            BetaBinomialClassification.Of(shape, items, [cut / (double)items], [cut])
        );
    }
}
