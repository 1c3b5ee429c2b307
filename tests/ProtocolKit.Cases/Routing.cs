using ProtocolKit.Calibration;
using ProtocolKit.Cases.Families;

namespace ProtocolKit.Cases;

/// <summary>Which family answers a case: by its id, and where that is of no known kind by the words of its method.</summary>
internal static class Routing
{
    private static readonly IReadOnlyList<CaseFamily> All =
    [
        new("icc", ["icc", "intraclass"], IccFamily.Compute),
        new("kappa", ["kappa"], KappaFamily.Compute),
        new("fleiss", ["fleiss"], FleissFamily.Compute),
        new("kripp", ["krippendorff"], KrippendorffFamily.Compute),
        new("gwet", ["gwet", "ac1", "ac2"], GwetFamily.Compute),
        new("kendall", ["kendall"], KendallFamily.Compute),
        new("ba", ["bland-altman", "repeatability"], BlandAltmanFamily.Compute),
        new("prop", ["proportion"], ProportionFamily.Compute),
        new("dx", ["sensitivity", "predictive", "zero cells"], DiagnosticFamily.Compute),
        new("mcnemar", ["mcnemar"], McNemarFamily.Compute),
        new("roc", ["roc", "auc"], RocFamily.Compute),
    ];

    /// <exception cref="NotEstimableException">No family fits.</exception>
    public static CaseFamily FamilyOf(CaseFile file)
    {
        var byWords = All.Where(f =>
            f.Words.Any(w => file.Method.Contains(w, StringComparison.OrdinalIgnoreCase))
        );
        return All.FirstOrDefault(f => file.Id.StartsWith(f.Prefix + "-", StringComparison.Ordinal))
            ?? byWords.FirstOrDefault()
            ?? throw new NotEstimableException(
                $"No method here answers \"{file.Method}\" (case \"{file.Id}\")."
            );
    }
}
