using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases;

/// <summary>Numbers, lists and tables out of a case's data, with a sentence where they aren't what they should be.</summary>
internal static class Input
{
    public static double? NumberOrNull(JsonNode? node) =>
        node is JsonValue v
            ? v.GetValueKind() switch
            {
                JsonValueKind.Number => v.GetValue<double>(),
                JsonValueKind.True => 1,
                JsonValueKind.False => 0,
                JsonValueKind.String
                    when double.TryParse(v.GetValue<string>(), CultureInfo.InvariantCulture, out var d) => d,
                _ => null,
            }
            : null;

    public static double Number(JsonNode? node, string what) =>
        NumberOrNull(node) ?? throw new NotEstimableException($"{what}: a number is needed.");

    /// <summary>The first of these keys that is there.</summary>
    public static JsonNode? First(JsonNode? data, params string[] names) =>
        data is JsonObject o ? names.Select(n => o[n]).FirstOrDefault(n => n is not null) : null;

    public static double Number(JsonNode? data, string what, params string[] names) =>
        Number(First(data, names), what);

    public static bool IsList(JsonNode? node) => node is JsonArray a && a.All(e => e is null or JsonValue);

    public static bool IsTable(JsonNode? node) => node is JsonArray { Count: > 0 } a && a.All(IsList);

    public static bool IsCube(JsonNode? node) => node is JsonArray { Count: > 0 } a && a.All(IsTable);

    /// <summary>A list without gaps.</summary>
    public static double[] List(JsonNode? node, string what) =>
        node is JsonArray a && IsList(node)
            ?
            [
                .. a.Select(
                    (e, i) => Number(e, string.Create(CultureInfo.InvariantCulture, $"{what}, entry {i + 1}"))
                ),
            ]
            : throw new NotEstimableException($"{what}: a list of numbers is needed.");

    /// <summary>A list in which an entry may be missing; text in it is an error.</summary>
    public static double?[] Gappy(JsonNode? node, string what) =>
        node is JsonArray a && IsList(node)
            ?
            [
                .. a.Select(
                    (e, i) =>
                        e is null
                            ? (double?)null
                            : Number(e, string.Create(CultureInfo.InvariantCulture, $"{what}, entry {i + 1}"))
                ),
            ]
            : throw new NotEstimableException($"{what}: a list of numbers is needed.");

    /// <summary>A table without gaps, a list each row.</summary>
    public static double[][] Table(JsonNode? node, string what) =>
        node is JsonArray a && IsTable(node)
            ?
            [
                .. a.Select(
                    (row, i) => List(row, string.Create(CultureInfo.InvariantCulture, $"{what}, row {i + 1}"))
                ),
            ]
            : throw new NotEstimableException($"{what}: a table of numbers is needed.");

    /// <summary>A matrix of ratings with gaps, a row each subject.</summary>
    public static RatingMatrix Matrix(JsonNode? node, string what) =>
        node is JsonArray a && IsTable(node)
            ? RatingMatrix.FromRows([
                .. a.Select(
                    (row, i) =>
                        (IReadOnlyList<double?>)
                            Gappy(row, string.Create(CultureInfo.InvariantCulture, $"{what}, row {i + 1}"))
                ),
            ])
            : throw new NotEstimableException($"{what}: a table of numbers is needed.");

    /// <summary>All members of the data that are tables of numbers, by name.</summary>
    public static IEnumerable<KeyValuePair<string, JsonNode?>> Tables(JsonNode data) =>
        data is JsonObject o ? o.Where(p => IsTable(p.Value) && HasNumbers(p.Value)) : [];

    /// <summary>All members of the data that are lists of numbers, by name.</summary>
    public static IEnumerable<KeyValuePair<string, JsonNode?>> Lists(JsonNode data) =>
        data is JsonObject o
            ? o.Where(p => IsList(p.Value) && ((JsonArray)p.Value!).Any(e => NumberOrNull(e) is not null))
            : [];

    private static bool HasNumbers(JsonNode? node) =>
        ((JsonArray)node!).Any(row =>
            ((JsonArray)row!).Any(e => e is JsonValue v && v.GetValueKind() == JsonValueKind.Number)
        );
}
