namespace ProtocolKit.Calibration.Reliability;

/// <summary>
/// Discrimination of an item by the children with the highest and the lowest totals. Source: Kelley TL (1939) J Educ
/// Psychol 30:17-24, who found 27 % on either side to tell most.
/// </summary>
public static class ExtremeGroups
{
    /// <summary>How much of the total's ends is compared.</summary>
    public const double Part = 0.27;

    /// <summary>Mean share of the item's points in the upper part less that in the lower, −1 to 1; null with fewer than two children.</summary>
    /// <param name="own">The item's points, a child each.</param>
    /// <param name="totals">The same children's totals. Of equal totals the one that comes later counts as higher.</param>
    public static double? Discrimination(
        IReadOnlyList<double> own,
        IReadOnlyList<double> totals,
        double lowest,
        double highest
    )
    {
        Require.SameLength(own.Count, totals.Count, "Items and totals");
        var part = (int)Math.Round(own.Count * Part, MidpointRounding.AwayFromZero);
        if (part < 1 || highest <= lowest)
        {
            return null;
        }

        var order = Enumerable.Range(0, own.Count).OrderBy(i => totals[i]).ToList();
        var difference = order.TakeLast(part).Average(i => own[i]) - order.Take(part).Average(i => own[i]);
        return difference / (highest - lowest);
    }
}
