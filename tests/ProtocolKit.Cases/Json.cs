using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using ProtocolKit.Calibration;

namespace ProtocolKit.Cases;

/// <summary>Short words for building results. Infinite figures are written as words, undefined ones as null.</summary>
internal static class Json
{
    public static readonly JsonWriterOptions Indented = new()
    {
        Indented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static JsonNode? Number(double? value) =>
        value switch
        {
            null => null,
            double.PositiveInfinity => JsonValue.Create("Infinity"),
            double.NegativeInfinity => JsonValue.Create("-Infinity"),
            { } v when double.IsNaN(v) => throw new NotEstimableException(
                "This figure is undefined for these data (0/0)."
            ),
            { } v => JsonValue.Create(v),
        };

    public static JsonNode? Pair(Interval? interval) =>
        interval is { } i ? new JsonArray(Number(i.Low), Number(i.High)) : null;

    public static JsonArray Numbers(IEnumerable<double?> values) => new([.. values.Select(Number)]);

    public static JsonArray Numbers(IEnumerable<double> values) => Numbers(values.Select(v => (double?)v));

    public static JsonArray Rows(IEnumerable<IEnumerable<double>> rows) =>
        new([.. rows.Select(r => (JsonNode)Numbers(r))]);

    public static JsonArray List(IEnumerable<JsonNode?> nodes) => new([.. nodes]);

    /// <summary>An object of numbers.</summary>
    public static JsonObject Object(params (string Key, double? Value)[] entries)
    {
        var result = new JsonObject();
        foreach (var (key, value) in entries)
        {
            result[key] = Number(value);
        }

        return result;
    }

    /// <summary>Adds entries of any kind; returns the same object.</summary>
    public static JsonObject With(this JsonObject target, params (string Key, JsonNode? Value)[] entries)
    {
        foreach (var (key, value) in entries)
        {
            target[key] = value;
        }

        return target;
    }

    /// <summary>The entry for what can't be answered.</summary>
    public static JsonObject Error(string sentence) => new() { ["error"] = sentence };

    /// <summary>The result, or its error entry: one undefined figure hides none of the others.</summary>
    public static JsonNode? Try(Func<JsonNode?> compute)
    {
        try
        {
            return compute();
        }
        catch (NotEstimableException e)
        {
            return Error(e.Message);
        }
    }
}
