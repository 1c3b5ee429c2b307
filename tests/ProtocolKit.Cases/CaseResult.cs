using System.Text.Json.Nodes;

namespace ProtocolKit.Cases;

/// <summary>What a family computed for a case.</summary>
/// <param name="Figures">The figures in the shape of a case's recomputed part.</param>
/// <param name="Named">Published labels that the figures' own names don't give: label to figure, or null if unknown.</param>
internal sealed record CaseResult(JsonNode Figures, Func<string, JsonNode?>? Named = null);

/// <summary>A family of cases: how its methods are recognised and answered.</summary>
/// <param name="Prefix">The beginning of its cases' ids.</param>
/// <param name="Words">Words of its methods: a method belongs here if it contains all words of one entry.</param>
internal sealed record CaseFamily(
    string Prefix,
    IReadOnlyList<string> Words,
    Func<CaseFile, CaseResult> Compute
);
