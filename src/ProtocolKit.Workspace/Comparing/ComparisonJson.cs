using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>A comparison for programs.</summary>
public static class ComparisonJson
{
    private static readonly JsonSerializerOptions Layout = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.Create(System.Text.Unicode.UnicodeRanges.All),
    };

    public static string Write(Comparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        return new JsonObject
        {
            ["old"] = Edition(comparison.Old),
            ["new"] = Edition(comparison.New),
            ["form"] = Texts(comparison.Form),
            ["administration"] = Texts(comparison.Administration),
            ["interpretation"] = Texts(comparison.Interpretation),
            ["beside"] = Texts(comparison.Beside),
            ["meaning"] = ComparisonText.Meaning(comparison),
            ["records"] = new JsonArray([.. comparison.Records.Select(Record)]),
            ["recall"] = Texts(comparison.Recall.Select(r => r.Case)),
            ["reachable"] = Texts(comparison.Reachable),
        }.ToJsonString(Layout);
    }

    private static JsonObject Edition(Protocol protocol) =>
        new()
        {
            ["protocol"] = protocol.Name,
            ["edition"] = protocol.Edition,
            ["fingerprints"] = new JsonObject
            {
                ["form"] = protocol.Fingerprints.Form,
                ["administration"] = protocol.Fingerprints.Administration,
                ["interpretation"] = protocol.Fingerprints.Interpretation,
            },
        };

    private static JsonObject Record(RecordComparison record) =>
        new()
        {
            ["file"] = record.Name,
            ["case"] = record.Case,
            ["problem"] = record.Problem,
            ["oldHeadline"] = record.OldHeadline,
            ["newHeadline"] = record.NewHeadline,
            ["changes"] = Texts(record.Changes),
            ["recall"] = record.IsRecall,
        };

    private static JsonArray Texts(IEnumerable<string> texts) =>
        [.. texts.Select(t => (JsonNode?)JsonValue.Create(t))];
}
