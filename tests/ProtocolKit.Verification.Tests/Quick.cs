namespace ProtocolKit.Verification.Tests;

/// <summary>
/// Targets that start in a moment: what is tried with many programs or texts runs on them. Every target runs in
/// EveryTargetTests, where a server or an office program is started once.
/// </summary>
internal static class Quick
{
    public static IReadOnlyList<string> Targets { get; } = ["csharp", "javascript", "python", "sql-duckdb"];
}
