using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace ProtocolKit.Calibration.Tests;

/// <summary>Compares what was expected with what came, path by path.</summary>
internal static class Comparison
{
    public static IEnumerable<string> Differences(
        JsonNode? expected,
        JsonNode? actual,
        string path,
        double tolerance
    ) =>
        expected switch
        {
            JsonObject o => o.Where(p => !Tolerances.Remarks.Contains(p.Key))
                .SelectMany(p =>
                    Differences(p.Value, (actual as JsonObject)?[p.Key], $"{path}/{p.Key}", tolerance)
                ),
            // Said in words, or not printed by the other program: nothing to compare.
            JsonValue when Tolerances.RemarkPaths.Contains(path) => [],
            JsonArray { Count: 0 } when Tolerances.RemarkPaths.Contains(path) => [],
            JsonArray a when actual is JsonArray b && a.Count == b.Count => a.SelectMany(
                (e, i) =>
                    Differences(
                        e,
                        b[i],
                        string.Create(CultureInfo.InvariantCulture, $"{path}/{i}"),
                        tolerance
                    )
            ),
            _ => Same(expected, actual, tolerance)
                ? []
                :
                [
                    $"{path}: expected {expected?.ToJsonString() ?? "null"}, got {actual?.ToJsonString() ?? "null"}",
                ],
        };

    private static bool Same(JsonNode? expected, JsonNode? actual, double tolerance)
    {
        if (expected is JsonValue e && e.GetValueKind() == JsonValueKind.Number)
        {
            return actual is JsonValue a
                && a.GetValueKind() == JsonValueKind.Number
                && Close(Number(e), Number(a), tolerance);
        }

        return JsonNode.DeepEquals(expected, actual);
    }

    public static double Number(JsonNode node) =>
        double.Parse(node.ToJsonString(), CultureInfo.InvariantCulture);

    /// <summary>Relative, with a floor for figures that are zero but for rounding.</summary>
    private static bool Close(double expected, double actual, double tolerance) =>
        Math.Abs(expected - actual) <= Math.Max(tolerance * Math.Abs(expected), 1e-12);
}
