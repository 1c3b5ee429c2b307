using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Reliability;

/// <summary>One item against its scale.</summary>
/// <param name="ItemTotal">Correlation with the total that includes it; null where it doesn't vary.</param>
/// <param name="ItemRest">Correlation with the total without it.</param>
/// <param name="AlphaIfDropped">Null with two items, or where the rest doesn't vary.</param>
public sealed record ItemRow(
    double Mean,
    double StandardDeviation,
    double? ItemTotal,
    double? ItemRest,
    double? AlphaIfDropped,
    double MeanIfDropped,
    double VarianceIfDropped,
    double ShareAtFloor,
    double ShareAtCeiling
);

/// <summary>Item analysis of classical test theory. A row each person, a column each item; complete answers.</summary>
public static class ItemStatistics
{
    /// <summary>Floor and ceiling are the lowest and highest possible score, the observed ones where none are given.</summary>
    public static IReadOnlyList<ItemRow> Of(RatingMatrix scores, double? least = null, double? most = null)
    {
        Require.AtLeast(scores.Subjects, 2, "Persons with complete answers");
        Require.AtLeast(scores.Raters, 2, "Items");
        var items = Enumerable.Range(0, scores.Raters).Select(scores.Column).ToArray();
        var totals = Enumerable.Range(0, scores.Subjects).Select(s => items.Sum(i => i[s])).ToArray();
        var variances = items.Sum(i => Descriptive.Variance(i));
        return [.. items.Select(item => Row(item, totals, variances, items.Length, least, most))];
    }

    private static ItemRow Row(
        double[] item,
        double[] totals,
        double variances,
        int items,
        double? least,
        double? most
    )
    {
        double[] rest = [.. totals.Zip(item, (t, i) => t - i)];
        var restVariance = Descriptive.Variance(rest);
        var own = Descriptive.Variance(item);
        var (floor, ceiling) = (least ?? item.Min(), most ?? item.Max());
        return new ItemRow(
            Descriptive.Mean(item),
            Math.Sqrt(own),
            Descriptive.Correlation(item, totals),
            Descriptive.Correlation(item, rest),
            items > 2 && restVariance > 0 ? CronbachAlpha.Of(items - 1, variances - own, restVariance) : null,
            Descriptive.Mean(rest),
            restVariance,
            item.Count(v => v <= floor) / (double)item.Length,
            item.Count(v => v >= ceiling) / (double)item.Length
        );
    }
}
