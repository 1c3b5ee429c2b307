namespace ProtocolKit.Calibration.Tests;

/// <summary>How close is close enough: 1e-8 relative for closed forms, less where a method is iterative and its check says so.</summary>
internal static class Tolerances
{
    /// <summary>Keys that hold remarks or another program's known mistakes, not figures to meet.</summary>
    public static readonly IReadOnlySet<string> Remarks = new HashSet<string>(StringComparer.Ordinal)
    {
        "note",
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
    };

    public static double Of(string id) => ById.GetValueOrDefault(id, 1e-8);
}

/// <summary>Keys of the expected part that are arguments of a method, not results.</summary>
internal static class Arguments
{
    private static readonly Dictionary<string, string[]> ById = new(StringComparer.Ordinal) { };

    public static IReadOnlyList<string> Of(string id) => ById.GetValueOrDefault(id.Split('-')[0], []);
}
