using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace ProtocolKit.Cases;

/// <summary>
/// Finds a figure by a label in free words, such as "Fleiss se" or "IF item 2": the figure whose path holds every word
/// of the label and as little else as possible. Two figures that fit equally well are none.
/// </summary>
internal static partial class Labels
{
    private static readonly Dictionary<string, string> Synonyms = new(StringComparer.Ordinal)
    {
        ["lower"] = "low",
        ["lwr"] = "low",
        ["upper"] = "high",
        ["upr"] = "high",
        ["sens"] = "sensitivity",
        ["spec"] = "specificity",
        ["nnd"] = "numberneededtodiagnose",
        ["bp"] = "brennanprediger",
        ["alpha"] = "alpha",
    };

    public static JsonNode? Find(JsonNode figures, string label)
    {
        var wanted = Words(label);
        var fits = Leaves(figures, [])
            .Where(l => wanted.IsSubsetOf(l.Words))
            .GroupBy(l => l.Words.Count)
            .OrderBy(g => g.Key)
            .FirstOrDefault()
            ?.ToList();
        return wanted.Count > 0 && fits is [var one] ? one.Figure : null;
    }

    private static IEnumerable<(HashSet<string> Words, JsonNode Figure)> Leaves(
        JsonNode? node,
        HashSet<string> path
    ) =>
        node switch
        {
            JsonObject o => o.SelectMany(p => Leaves(p.Value, [.. path, .. Words(p.Key)])),
            JsonArray { Count: 2 } a when a.All(e => e is null or JsonValue) =>
            [
                .. a[0] is { } low ? [([.. path, "low"], low)] : Array.Empty<(HashSet<string>, JsonNode)>(),
                .. a[1] is { } high
                    ? [([.. path, "high"], high)]
                    : Array.Empty<(HashSet<string>, JsonNode)>(),
            ],
            JsonArray => [],
            null => [],
            _ => [(path, node)],
        };

    private static HashSet<string> Words(string text) =>
        [
            .. WordPattern()
                .Matches(text.ToLowerInvariant())
                .Select(m => Synonyms.GetValueOrDefault(m.Value, m.Value)),
        ];

    [GeneratedRegex("[a-z]+|[0-9]+(?:\\.[0-9]+)?")]
    private static partial Regex WordPattern();
}
