using System.Globalization;
using System.Text;
using System.Text.Json;
using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests;

/// <summary>
/// The structure of a published scale: which points each item allows, which totals make a band, and what is known of its
/// totals. Nothing of its wording. The source stands in the file.
/// </summary>
internal sealed class ScaleCase
{
    private readonly JsonElement _root;

    private ScaleCase(JsonElement root) => _root = root;

    public static IEnumerable<string> Ids =>
        Directory
            .EnumerateFiles(Path.Combine(AppContext.BaseDirectory, "Checks"), "scale-*.json")
            .Select(f => Path.GetFileNameWithoutExtension(f))
            .Order(StringComparer.Ordinal);

    public IReadOnlyDictionary<string, string> Published =>
        _root.GetProperty("published").EnumerateObject().ToDictionary(p => p.Name, p => p.Value.GetString()!);

    public JsonElement Recomputed => _root.GetProperty("recomputed");

    public IReadOnlyList<(Rational From, Rational To)> Bands =>
        [.. _root.GetProperty("bands").EnumerateArray().Select(b => (Number(b[0]), Number(b[1])))];

    /// <summary>Items that exclude each other are one item with the levels of both.</summary>
    public IReadOnlyList<IReadOnlyList<Rational>> Items
    {
        get
        {
            var items = _root
                .GetProperty("items")
                .EnumerateArray()
                .Select(i => i.EnumerateArray().Select(Number).ToList())
                .ToList();
            if (_root.GetProperty("exclusive") is { ValueKind: JsonValueKind.Array } pair)
            {
                var (a, b) = (pair[0].GetInt32(), pair[1].GetInt32());
                items[a] = [.. items[a].Concat(items[b]).Distinct().Order()];
                items.RemoveAt(b);
            }

            return items;
        }
    }

    public static ScaleCase Read(string id)
    {
        var path = Path.Combine(AppContext.BaseDirectory, "Checks", id + ".json");
        return new ScaleCase(JsonDocument.Parse(File.ReadAllText(path)).RootElement);
    }

    public IReadOnlyList<Rational> Numbers(string name) =>
        [.. Recomputed.GetProperty(name).EnumerateArray().Select(Number)];

    /// <summary>The structure written as a protocol of ours.</summary>
    /// <param name="bands">Instead of the case's own.</param>
    public string ToProtocol(IReadOnlyList<(Rational From, Rational To)>? bands = null)
    {
        var text = new StringBuilder(
            "protocol structure\n  title \"Structure\"\n  edition 1\n  ages 4;0 to 5;11\n"
        );
        for (var i = 0; i < Items.Count; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"scale levels-{i}, lower is better\n");
            foreach (var points in Items[i].Reverse())
            {
                text.Append(CultureInfo.InvariantCulture, $"  {points} \"level\"\n");
            }
        }

        text.Append("section all \"All\"\n");
        for (var i = 0; i < Items.Count; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"  task item-{i}\n    rate levels-{i}\n");
        }

        text.Append("score total \"Total\"\n  add up rate of every task in all\n");
        Append(text, bands ?? Bands);
        return text.ToString();
    }

    private static void Append(StringBuilder text, IReadOnlyList<(Rational From, Rational To)> bands)
    {
        if (bands.Count == 0)
        {
            return;
        }

        text.Append("cut-offs total\n  ages");
        text.Append(
            string.Concat(bands.Select((_, i) => string.Create(CultureInfo.InvariantCulture, $"  band-{i}")))
        );
        text.Append("\n  4;0 to 5;11");
        text.Append(string.Concat(bands.Select(b => $"  {b.From} to {b.To}")));
        text.Append("\n  basis published \"see the case's source\"\n");
    }

    private static Rational Number(JsonElement element)
    {
        Assert.True(Rational.TryParse(element.GetRawText(), out var number));
        return number;
    }
}
