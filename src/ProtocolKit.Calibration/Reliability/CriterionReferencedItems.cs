namespace ProtocolKit.Calibration.Reliability;

/// <summary>A right-or-wrong item seen from a cut-off on the total.</summary>
/// <param name="BIndex">Facility among those who pass minus among those who fail (Brennan RL (1972) Educ Psychol Meas 32:289-303).</param>
/// <param name="Agreement">Share for whom item and cut-off say the same.</param>
/// <param name="Phi">Item phi; null for an item that all or none got right.</param>
public sealed record CriterionItem(
    double Facility,
    double FacilityPass,
    double FacilityFail,
    double BIndex,
    double Agreement,
    double? Phi
);

/// <summary>
/// Item statistics for cut-offs; formulas as in Brown JD, Hudson T (2002) Criterion-referenced language testing,
/// chapter 4. Items 0 or 1, a row each person; a person passes with total ≥ cut. Both sides must have somebody.
/// </summary>
public static class CriterionReferencedItems
{
    public static IReadOnlyList<CriterionItem> Of(
        IReadOnlyList<double[]> items,
        IReadOnlyList<double> totals,
        double cut
    )
    {
        Require.SameLength(items.Count, totals.Count, "Items and totals");
        var pass = totals.Select(t => t >= cut).ToArray();
        var share = pass.Count(p => p) / (double)pass.Length;
        Require.That(share is > 0 and < 1, "The cut-off divides nobody: all persons are on one side of it.");
        return
        [
            .. Enumerable
                .Range(0, items[0].Length)
                .Select(i => Row([.. items.Select(r => r[i])], pass, share)),
        ];
    }

    private static CriterionItem Row(double[] item, bool[] pass, double share)
    {
        Require.That(item.All(v => v is 0 or 1), "These item statistics need items scored 0 or 1.");
        var facility = item.Average();
        var above = item.Where((_, s) => pass[s]).Average();
        var below = item.Where((_, s) => !pass[s]).Average();
        var spread = facility * (1 - facility) * share * (1 - share);
        return new CriterionItem(
            facility,
            above,
            below,
            above - below,
            item.Where((v, s) => v == 1 == pass[s]).Count() / (double)item.Length,
            spread > 0 ? ((above * share) - (facility * share)) / Math.Sqrt(spread) : null
        );
    }
}
