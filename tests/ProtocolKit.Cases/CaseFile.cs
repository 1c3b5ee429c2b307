using System.Text.Json;
using System.Text.Json.Nodes;
using ProtocolKit.Calibration;

namespace ProtocolKit.Cases;

/// <summary>
/// A case: method, data, options, and the names of what is asked for. Expected figures never reach a method: of the
/// expected parts only keys and the arguments a family names (such as the reliability a prophecy starts from) are kept.
/// </summary>
internal sealed class CaseFile
{
    private readonly JsonObject _root;
    private readonly JsonNode? _recomputed;

    private CaseFile(JsonObject root)
    {
        Id = (string?)root["id"] ?? "";
        Method = (string?)root["method"] ?? "";
        _root = root;
        Options = root["options"] as JsonObject ?? [];
        Cases.Options.Check(Options);
        Data = root["data"] ?? new JsonObject();
        Published = root["expected_published"] is JsonObject o ? [.. o.Select(p => p.Key)] : [];
        _recomputed = root["expected_recomputed"];
    }

    public string Id { get; }

    public string Method { get; }

    public JsonNode Data { get; private init; }

    public JsonObject Options { get; }

    /// <summary>The labels of published figures.</summary>
    public IReadOnlyList<string> Published { get; }

    /// <summary>Options that a family read by names of its own.</summary>
    public HashSet<string> UsedOptions { get; } = new(StringComparer.Ordinal);

    /// <summary>The confidence level: 0.95 unless the options say otherwise; 95 is read as 0.95.</summary>
    public double Confidence =>
        Share(Option("confidence") ?? Option("level") ?? Option("conf_level") ?? 0.95);

    /// <exception cref="NotEstimableException">The text is no case.</exception>
    public static CaseFile Parse(string text)
    {
        try
        {
            return JsonNode.Parse(text) is JsonObject root
                ? new CaseFile(root)
                : throw new NotEstimableException(
                    "A case is a JSON object with id, method, data and options."
                );
        }
        catch (JsonException e)
        {
            throw new NotEstimableException("The case can't be read as JSON: " + e.Message, e);
        }
    }

    /// <summary>The same case with categories in words numbered, for the families that rate by categories.</summary>
    public CaseFile WithNumberedCategories() => new(_root) { Data = CategoryLabels.Numbered(Data) };

    /// <summary>A number from the options, or null.</summary>
    public double? Option(string name) => Input.NumberOrNull(Options[name]);

    /// <summary>The keys of the recomputed part, with values only where they are arguments by name.</summary>
    public JsonNode? Requested(params string[] arguments) => Strip(_recomputed, arguments);

    /// <summary>The keys of the recomputed part at the top.</summary>
    public IReadOnlyList<string> RequestedKeys =>
        _recomputed is JsonObject o ? [.. o.Select(p => p.Key)] : [];

    private static double Share(double level) => level is >= 50 and < 100 ? level / 100 : level;

    private static JsonNode? Strip(JsonNode? node, string[] arguments) =>
        node switch
        {
            JsonObject o => new JsonObject(
                o.Select(p =>
                    KeyValuePair.Create(
                        p.Key,
                        arguments.Contains(p.Key) ? p.Value?.DeepClone() : Strip(p.Value, arguments)
                    )
                )
            ),
            JsonArray a => new JsonArray([.. a.Select(e => Strip(e, arguments))]),
            _ => null,
        };
}
