using System.Globalization;
using System.Numerics;
using System.Text;
using System.Text.Json;
using ProtocolKit.Model;

namespace ProtocolKit.Proof.Tests;

/// <summary>
/// The structures of published scales (points of each item and bands of totals, no wording; sources stand in the files): sets,
/// numbers of answer patterns for each total, and which totals have no band.
/// </summary>
public sealed class ScaleTests
{
    private static readonly string[] BadBands = ["0 to 4", "5 to 9", "10 to 14", "16 to 27"];

    public static TheoryData<string> Cases =>
        [
            .. Directory
                .EnumerateFiles(Path.Combine(AppContext.BaseDirectory, "Checks"), "scale-*.json")
                .Select(f => Path.GetFileNameWithoutExtension(f))
                .Order(StringComparer.Ordinal),
        ];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Sets_and_patterns_are_the_published_ones(string id)
    {
        using var document = Read(id);
        var recomputed = document.RootElement.GetProperty("recomputed");
        var proving = Proving.Text(Text(document.RootElement));
        var totals = recomputed.GetProperty("reachable_totals").EnumerateArray().Select(Number).ToList();
        Assert.Equal(totals, proving.Set("total"));
        var counts = new RecordCounter(proving.Protocol, new Age(48)).ByValue("total");
        Assert.Equal(
            recomputed.GetProperty("n_answer_patterns").GetInt64(),
            proving.Report.Records!.Complete
        );
        foreach (var expected in recomputed.GetProperty("patterns_per_total").EnumerateObject())
        {
            Assert.True(Rational.TryParse(expected.Name, out var total));
            Assert.Equal((BigInteger)expected.Value.GetInt64(), counts[total]);
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Holes_nobody_reaches_are_no_gap_and_bad_bands_are_found(string id)
    {
        using var document = Read(id);
        var gaps = Proving.Text(Text(document.RootElement)).Of(ProofKind.Gap).Select(g => g.Text).ToList();
        if (id == "scale-14-bad-bands")
        {
            Assert.StartsWith("total can be 15,", Assert.Single(gaps), StringComparison.Ordinal);
        }
        else
        {
            Assert.Empty(gaps);
        }
    }

    private static JsonDocument Read(string id) =>
        JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Checks", id + ".json")));

    private static string Text(JsonElement root)
    {
        var items = root.GetProperty("items")
            .EnumerateArray()
            .Select(i => i.EnumerateArray().Select(Number).ToList())
            .ToList();
        if (root.GetProperty("exclusive") is { ValueKind: JsonValueKind.Array } pair)
        {
            var (a, b) = (pair[0].GetInt32(), pair[1].GetInt32());
            items[a] = [.. items[a].Concat(items[b]).Distinct().Order()];
            items.RemoveAt(b);
        }

        var text = new StringBuilder(
            "protocol structure\n  title \"Structure\"\n  edition 1\n  ages 4;0 to 5;11\n"
        );
        for (var i = 0; i < items.Count; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"scale levels-{i}, lower is better\n");
            items[i].Reverse();
            items[i].ForEach(p => text.Append(CultureInfo.InvariantCulture, $"  {p} \"level\"\n"));
        }

        text.Append("section all \"All\"\n");
        for (var i = 0; i < items.Count; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"  task item-{i}\n    rate levels-{i}\n");
        }

        text.Append("score total \"Total\"\n  add up rate of every task in all\n");
        Append(text, root);
        return text.ToString();
    }

    /// <summary>Overlapping bands do not compile, so of the bad ones the gap alone is left.</summary>
    private static void Append(StringBuilder text, JsonElement root)
    {
        var bands = root.GetProperty("bands")
            .EnumerateArray()
            .Select(b => (From: Number(b[0]), To: Number(b[1])))
            .ToList();
        if (bands.Count == 0)
        {
            return;
        }

        var overlap = bands.Zip(bands.Skip(1)).Any(p => p.Second.From <= p.First.To);
        var cells = overlap ? BadBands : [.. bands.Select(b => $"{b.From} to {b.To}")];
        text.Append("cut-offs total\n  ages");
        text.Append(
            string.Concat(cells.Select((_, i) => string.Create(CultureInfo.InvariantCulture, $"  band-{i}")))
        );
        text.Append("\n  4;0 to 5;11").Append(string.Concat(cells.Select(c => "  " + c)));
        text.Append("\n  basis published \"see the case's source\"\n");
    }

    private static Rational Number(JsonElement element)
    {
        Assert.True(Rational.TryParse(element.GetRawText(), out var number));
        return number;
    }
}
