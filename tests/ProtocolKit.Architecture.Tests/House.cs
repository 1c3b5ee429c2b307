namespace ProtocolKit.Architecture.Tests;

/// <summary>The drawing of the house as data: who may depend on whom. DEVELOPERS.md shows the same in words.</summary>
internal static class House
{
    /// <summary>A project of <c>src</c> with the projects it may use. What is not listed is forbidden.</summary>
    public static readonly IReadOnlyDictionary<string, string[]> Allowed = new Dictionary<string, string[]>(
        StringComparer.Ordinal
    )
    {
        ["ProtocolKit.Model"] = [],
        ["ProtocolKit.Language"] = ["ProtocolKit.Model"],
        ["ProtocolKit.Scoring"] = ["ProtocolKit.Model"],
        ["ProtocolKit.Emit"] = ["ProtocolKit.Model"],
        ["ProtocolKit.Calibration"] = ["ProtocolKit.Model"],
        ["ProtocolKit.Proof"] = ["ProtocolKit.Model", "ProtocolKit.Scoring"],
        ["ProtocolKit.Testing"] = ["ProtocolKit.Model", "ProtocolKit.Proof"],
        ["ProtocolKit.Solver"] = ["ProtocolKit.Proof"],
        ["ProtocolKit.Workspace"] =
        [
            "ProtocolKit.Model",
            "ProtocolKit.Language",
            "ProtocolKit.Scoring",
            "ProtocolKit.Proof",
            "ProtocolKit.Solver",
            "ProtocolKit.Emit",
            "ProtocolKit.Calibration",
        ],
        ["ProtocolKit.Verification"] =
        [
            "ProtocolKit.Model",
            "ProtocolKit.Scoring",
            "ProtocolKit.Emit",
            "ProtocolKit.Testing",
        ],
        ["ProtocolKit.Cli"] =
        [
            "ProtocolKit.Model",
            "ProtocolKit.Language",
            "ProtocolKit.Scoring",
            "ProtocolKit.Proof",
            "ProtocolKit.Emit",
            "ProtocolKit.Calibration",
            "ProtocolKit.Testing",
            "ProtocolKit.Workspace",
            "ProtocolKit.Verification",
        ],
    };

    /// <summary>Projects that touch no files, consoles, clocks or processes.</summary>
    public static readonly IReadOnlyList<string> Inner =
    [
        "ProtocolKit.Model",
        "ProtocolKit.Language",
        "ProtocolKit.Scoring",
        "ProtocolKit.Proof",
        "ProtocolKit.Emit",
        "ProtocolKit.Testing",
        "ProtocolKit.Calibration",
    ];

    /// <summary>Dependencies that the table does not allow, as "A -> B".</summary>
    public static IReadOnlyList<string> Forbidden(IEnumerable<(string From, string To)> dependencies) =>
        [
            .. dependencies
                .Where(d => !Allowed.TryGetValue(d.From, out var allowed) || !allowed.Contains(d.To))
                .Select(d => $"{d.From} -> {d.To}")
                .Distinct(StringComparer.Ordinal)
                .Order(StringComparer.Ordinal),
        ];
}
