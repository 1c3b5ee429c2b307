using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// The shapes a questionnaire is made of; every call makes new nodes. Sources: FHIR R4 (4.0.1), Questionnaire,
/// http://hl7.org/fhir/R4/questionnaire.html; Structured Data Capture, http://hl7.org/fhir/uv/sdc.
/// </summary>
internal static partial class FhirItems
{
    public const string Core = "http://hl7.org/fhir/StructureDefinition/";
    public const string Sdc = "http://hl7.org/fhir/uv/sdc/StructureDefinition/sdc-questionnaire-";
    public const string Units = "http://unitsofmeasure.org";

    /// <summary>The code systems of a protocol are its own: names of levels, options and codes as it writes them.</summary>
    public const string Systems = "urn:protocolkit:";

    public static JsonObject Item(string linkId, string text, string type) =>
        new()
        {
            ["linkId"] = linkId,
            ["text"] = FhirText.Of(text),
            ["type"] = type,
        };

    public static JsonObject Group(string linkId, string text) => Item(linkId, text, "group");

    public static JsonObject Extension(string url, string type, JsonNode value) =>
        new() { ["url"] = url, ["value" + type] = value };

    public static JsonObject With(this JsonObject item, params JsonObject[] extensions)
    {
        var all = item["extension"] as JsonArray ?? [];
        item["extension"] = all;
        foreach (var extension in extensions)
        {
            all.Add(extension);
        }

        return item;
    }

    public static JsonObject Hidden(this JsonObject item) =>
        item.With(Extension(Core + "questionnaire-hidden", "Boolean", true));

    public static JsonObject Calculated(this JsonObject item, string expression, string about)
    {
        item["readOnly"] = true;
        var value = new JsonObject
        {
            ["description"] = FhirText.Of(about),
            ["language"] = "text/fhirpath",
            ["expression"] = expression,
        };
        return item.With(Extension(Sdc + "calculatedExpression", "Expression", value));
    }

    public static JsonObject Between(this JsonObject item, Rational low, Rational high, string type) =>
        item.With(
            Extension(Core + "minValue", type, Number(low)),
            Extension(Core + "maxValue", type, Number(high))
        );

    public static JsonObject InUnit(this JsonObject item, Unit unit) =>
        unit.IsPure && unit.Symbol.Length == 0
            ? item
            : item.With(
                Extension(Core + "questionnaire-unit", "Coding", Coding(Units, Ucum(unit), unit.Symbol))
            );

    public static JsonObject Coding(string system, string code, string? display)
    {
        var coding = new JsonObject { ["system"] = system, ["code"] = FhirText.Code(code) };
        if (display is not null)
        {
            coding["display"] = FhirText.Of(display);
        }

        return coding;
    }

    /// <summary>An option of a question; one with points carries them as its weight.</summary>
    public static JsonObject Option(string system, string code, string display, Rational? points)
    {
        var option = new JsonObject();
        if (points is { } weight)
        {
            option.With(
                Extension(Core + "ordinalValue", "Decimal", Number(weight)),
                Extension(Core + "itemWeight", "Decimal", Number(weight))
            );
        }

        option["valueCoding"] = Coding(system, code, display);
        return option;
    }

    public static void Add(this JsonObject parent, JsonObject item)
    {
        var items = parent["item"] as JsonArray ?? [];
        parent["item"] = items;
        items.Add(item);
    }

    /// <summary>A number without its way over a double.</summary>
    public static JsonNode Number(Rational value)
    {
        var text = value.ToString();
        return text.Contains('/', StringComparison.Ordinal)
            ? JsonValue.Create((decimal)value.Numerator / (decimal)value.Denominator)
            : JsonValue.Create(decimal.Parse(text, CultureInfo.InvariantCulture));
    }

    /// <summary>The UCUM code: what is no unit of UCUM's is an annotation, which holds printable ASCII without spaces and braces.</summary>
    public static string Ucum(Unit unit) =>
        unit.Symbol.Length == 0
            ? "1"
            : Words()
                .Replace(unit.Symbol, w => IsTag(w.Value) ? $"{{{Unfit().Replace(w.Value, "_")}}}" : w.Value);

    private static bool IsTag(string atom) => Unit.Of([atom], []).Dimension.StartsWith('{');

    [GeneratedRegex("[^./]+")]
    private static partial Regex Words();

    [GeneratedRegex("[^!-z|~]")]
    private static partial Regex Unfit();
}
