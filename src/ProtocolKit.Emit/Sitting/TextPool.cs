using System.Text.Json.Nodes;

namespace ProtocolKit.Emit.Sitting;

/// <summary>Texts that many tasks share, each kept once and named by its number.</summary>
internal sealed class TextPool
{
    private readonly Dictionary<string, int> _numbers = new(StringComparer.Ordinal);

    /// <summary>In the order of their numbers, from 0.</summary>
    public JsonArray Items { get; } = [];

    /// <summary>The number of an item, an equal one before it or its own.</summary>
    public JsonNode Add(JsonArray item)
    {
        var text = item.ToJsonString();
        if (!_numbers.TryGetValue(text, out var number))
        {
            number = _numbers[text] = Items.Count;
            Items.Add((JsonNode)item);
        }

        return number;
    }
}
