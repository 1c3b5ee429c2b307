using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Reliability;

/// <summary>KR-20 and KR-21 with the variances that make programs differ.</summary>
/// <param name="Kr20">With population variances throughout; equal to alpha.</param>
/// <param name="Kr20Mixed">p(1 − p) against the n − 1 variance of the total: a common slip, given to recognise it.</param>
public sealed record KuderRichardsonResult(
    IReadOnlyList<double> Difficulties,
    double Kr20,
    double Alpha,
    double Kr20Mixed,
    double Kr21Sample,
    double Kr21Population,
    double TotalMean,
    double SampleDeviation,
    double PopulationDeviation
);

/// <summary>A right-or-wrong item against the total.</summary>
public sealed record DiscriminationRow(
    double Difficulty,
    double? PointBiserial,
    double? PointBiserialRest,
    double? BiserialPopulation,
    double? BiserialSample
);

/// <summary>
/// Reliability of items scored 0 and 1: Kuder GF, Richardson MW (1937) Psychometrika 2:151-160. Complete answers.
/// Biserial correlations assume a normal trait under the item; null for items that all or none got right.
/// </summary>
public static class KuderRichardson
{
    public static KuderRichardsonResult Of(RatingMatrix scores)
    {
        Require.That(
            scores.Levels().All(l => l is 0 or 1),
            "Kuder and Richardson's formulas need items scored 0 or 1."
        );
        var items = Items(scores);
        var totals = Totals(items);
        var p = items.Select(i => i.Average()).ToArray();
        var spread = p.Sum(x => x * (1 - x));
        var (sample, population) = (Descriptive.Variance(totals), Descriptive.PopulationVariance(totals));
        var mean = Descriptive.Mean(totals);
        return new KuderRichardsonResult(
            p,
            CronbachAlpha.Of(items.Length, spread, population),
            CronbachAlpha.Of(items.Length, items.Sum(i => Descriptive.Variance(i)), sample),
            CronbachAlpha.Of(items.Length, spread, sample),
            Kr21(items.Length, mean, sample),
            Kr21(items.Length, mean, population),
            mean,
            Math.Sqrt(sample),
            Math.Sqrt(population)
        );
    }

    /// <summary>KR-21 from the mean and variance of totals over k items: all items taken as equally hard.</summary>
    public static double Kr21(int items, double mean, double variance)
    {
        Require.AtLeast(items, 2, "Items");
        Require.That(variance > 0, "KR-21 can't be computed: every person has the same total.");
        return items / (items - 1.0) * (1 - (mean * (items - mean) / (items * variance)));
    }

    public static IReadOnlyList<DiscriminationRow> Discrimination(RatingMatrix scores)
    {
        var items = Items(scores);
        var totals = Totals(items);
        var ratio = Math.Sqrt((totals.Length - 1.0) / totals.Length);
        return
        [
            .. items.Select(item =>
            {
                var p = item.Average();
                var total = Descriptive.Correlation(item, totals);
                var rest = Descriptive.Correlation(item, [.. totals.Zip(item, (t, i) => t - i)]);
                double? biserial = p is > 0 and < 1
                    ? total
                        * Math.Sqrt(p * (1 - p))
                        / Distributions.NormalPdf(Distributions.NormalQuantile(p))
                    : null;
                return new DiscriminationRow(p, total, rest, biserial, biserial * ratio);
            }),
        ];
    }

    private static double[][] Items(RatingMatrix scores) =>
        [.. Enumerable.Range(0, scores.Raters).Select(scores.Column)];

    private static double[] Totals(double[][] items) =>
        [.. Enumerable.Range(0, items[0].Length).Select(s => items.Sum(i => i[s]))];
}
