namespace ProtocolKit.Calibration.Tests;

/// <summary>How close is close enough: 1e-8 relative for closed forms, less where a method is iterative and its check says so.</summary>
internal static class Tolerances
{
    /// <summary>Keys that hold remarks or another program's known mistakes, not figures to meet.</summary>
    public static readonly IReadOnlySet<string> Remarks = new HashSet<string>(StringComparer.Ordinal)
    {
        "note",
        "keats",
        "cut_polytomous_note",
        "meaning",
        "ASE_as_psych_2.2.9_prints_WRONG",
    };

    /// <summary>Places where a check holds words, or nothing, in place of a figure.</summary>
    public static readonly IReadOnlySet<string> RemarkPaths = new HashSet<string>(StringComparer.Ordinal)
    {
        "/perfect/ci",
        "/pROC_unpaired/ci",
    };

    private static readonly Dictionary<string, double> ById = new(StringComparer.Ordinal)
    {
        ["icc-06-incomplete"] = 1e-5, // REML is iterative on both sides
        ["cut-01-contrasting-groups"] = 1e-6, // the other program stops its logistic steps earlier
        ["omega-01-thurstone"] = 1e-4, // iterative; the check itself allows 0.005 for the hierarchical form
    };

    /// <summary>Published figures of other random draws: ours must come this close.</summary>
    public static double? OfDraws(string id, string label) =>
        id != "boot-06-efron-tibshirani" ? null
        : label == "z0" ? 0.1
        : label is "theta_hat" or "acceleration" ? null
        : 8;

    public static double Of(string id) => ById.GetValueOrDefault(id, 1e-8);
}

/// <summary>Keys of the expected part that are arguments of a method, not results.</summary>
internal static class Arguments
{
    private static readonly Dictionary<string, string[]> ById = new(StringComparer.Ordinal)
    {
        ["sb"] = ["r", "length_factor", "target"],
        ["gtheory"] = ["n_i", "n_o"],
        ["cut"] = ["score", "n"],
        ["quantile"] = ["p"],
        ["norm"] = ["percentile"],
        ["read"] = ["text", "sentences", "words", "syllables", "how_counted"],
        ["table"] = ["task", "age", "seconds", "s", "z"],
    };

    public static IReadOnlyList<string> Of(string id) => ById.GetValueOrDefault(id.Split('-')[0], []);
}
