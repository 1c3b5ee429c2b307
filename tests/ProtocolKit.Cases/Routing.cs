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
        new("alpha", ["cronbach"], ReliabilityFamily.Alpha),
        new("kr20", ["kr-20", "kr-21"], ReliabilityFamily.KuderRichardson),
        new("sb", ["spearman-brown", "split half"], ReliabilityFamily.Halves),
        new("omega", ["omega"], ReliabilityFamily.Omega),
        new("item", ["criterion-referenced"], ReliabilityFamily.Items),
        new(
            "gtheory",
            ["g study", "generalizability", "variance components"],
            GeneralizabilityFamily.Compute
        ),
        new(
            "cut",
            ["contrasting groups", "borderline", "angoff", "hofstee", "conditional sem"],
            CutOffFamily.Compute
        ),
        new(
            "decision",
            ["decision consistency", "subkoviak", "livingston", "huynh", "classification"],
            DecisionFamily.Compute
        ),
        new("rci", ["reliable change", "regression-based change"], ChangeFamily.ReliableChange),
        new("sem", ["sem", "sdc"], ChangeFamily.Error),
        new("boot", ["bootstrap"], BootstrapFamily.Compute),
        new("quantile", ["quantile"], NormFamily.Quantiles),
        new("prank", ["percentile rank"], NormFamily.Ranks),
        new("norm", ["norm sample", "standard score", "regression-based norms"], NormFamily.Norms),
        new("lms", ["lms"], NormFamily.Lms),
        new("read", ["reading ease", "lix", "readability"], ReadabilityFamily.Compute),
        new("age", ["chronological age", "prematurity"], AgeFamily.Compute),
        new("scale", ["structure of a published scale"], ScaleFamily.Compute),
        new("table", ["lookup", "facts"], TableFamily.Compute),
        new("dist", ["distribution function"], DistributionFamily.Compute),
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
