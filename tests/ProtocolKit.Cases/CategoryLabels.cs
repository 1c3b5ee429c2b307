using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace ProtocolKit.Cases;

/// <summary>Ratings in words ("yes", "not tried") become numbers from 1: in the declared order, else in that of the alphabet.</summary>
internal static class CategoryLabels
{
    private static readonly string[] Declared = ["levels", "scale", "categories"];
    private static readonly string[] NoRatings =
    [
        "names",
        "variables",
        "raters",
        "observers",
        "subjects",
        "judges",
    ];

    public static JsonNode Numbered(JsonNode data)
    {
        if (data is not JsonObject members)
        {
            return data;
        }

        var words = members
            .Where(m => !NoRatings.Contains(m.Key) && !Declared.Contains(m.Key))
            .SelectMany(m => Words(m.Value, m.Value is JsonArray))
            .ToHashSet(StringComparer.Ordinal);
        if (words.Count == 0)
        {
            return data;
        }

        var declared = Input.First(data, Declared) as JsonArray;
        List<string> order = declared is not null
            ? [.. declared.Select(d => d?.ToString() ?? "")]
            : [.. words.Order(StringComparer.Ordinal)];
        return new JsonObject(
            members.Select(m =>
                KeyValuePair.Create(
                    m.Key,
                    NoRatings.Contains(m.Key) ? m.Value?.DeepClone() : Number(m.Value, order)
                )
            )
        );
    }

    private static IEnumerable<string> Words(JsonNode? node, bool inList) =>
        node switch
        {
            JsonArray a => a.SelectMany(e => Words(e, true)),
            JsonObject o => o.SelectMany(p => Words(p.Value, false)),
            JsonValue v when inList && IsWord(v) => [v.GetValue<string>()],
            _ => [],
        };

    private static bool IsWord(JsonValue value) =>
        value.GetValueKind() == JsonValueKind.String && Input.NumberOrNull(value) is null;

    private static JsonNode? Number(JsonNode? node, List<string> order) =>
        node switch
        {
            JsonArray a => new JsonArray([.. a.Select(e => Number(e, order))]),
            JsonObject o => new JsonObject(o.Select(p => KeyValuePair.Create(p.Key, Number(p.Value, order)))),
            JsonValue v
                when order.IndexOf(Convert.ToString(v, CultureInfo.InvariantCulture) ?? "")
                    is >= 0
                        and var i => JsonValue.Create(i + 1.0),
            _ => node?.DeepClone(),
        };
}
