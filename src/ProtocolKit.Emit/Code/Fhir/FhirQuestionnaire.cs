using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// A protocol as a Questionnaire of FHIR R4 with Structured Data Capture: questions, then results, and beside
/// them the scoring program, one variable a field and a line.
/// </summary>
internal static class FhirQuestionnaire
{
    private static readonly JsonSerializerOptions Layout = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        // Expressions stay readable: the file stands in no page.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static string Url(Protocol protocol) => $"{FhirItems.Systems}questionnaire:{protocol.Name}";

    /// <summary>As JSON; marks that reorder text are written as escapes.</summary>
    public static string Write(JsonObject resource)
    {
        var json = resource.ToJsonString(Layout);
        var text = new StringBuilder(json.Length + 1);
        foreach (var c in json)
        {
            _ =
                char.GetUnicodeCategory(c) == UnicodeCategory.Format
                    ? text.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:X4}")
                    : text.Append(c);
        }

        return text.Append('\n').ToString();
    }

    /// <summary>The questionnaire, and the name of the variable of each field and then of each line.</summary>
    public static (JsonObject Questionnaire, IReadOnlyList<string> Names) Of(Protocol protocol)
    {
        var questionnaire = Head(protocol);
        var places = new FhirPlaces(questionnaire);
        var questions = new FhirQuestions(protocol, places);
        var reading = new FhirReading(protocol, places, questions);
        var lines = Lines(protocol, places, reading);
        var enabling = new FhirEnabling(protocol, places, questions, lines);
        foreach (var answer in reading.Answers)
        {
            enabling.Apply(answer);
        }

        var problems = new FhirChecks(protocol, places, questions, reading, lines).Said;
        _ = new FhirResults(protocol, places, reading, lines, problems);
        return (questionnaire, [.. reading.Fields.Concat(lines).Select(v => v[1..])]);
    }

    private static List<string> Lines(Protocol protocol, FhirPlaces places, FhirReading reading)
    {
        var lines = new List<string>();
        var writer = new FhirPathWriter(reading.Fields, lines);
        foreach (var line in protocol.Program.Lines)
        {
            var code = line.Value is { } value ? writer.Write(value) : writer.Write(line.Condition!);
            lines.Add(places.Variables.Add(line.Name, About(line), code.Flat()));
        }

        return lines;
    }

    private static string About(ProgramLine line)
    {
        var limits = line.Value is null
            ? "true or false"
            : FormattableString.Invariant($"{line.Low}..{line.High}");
        return line.Note.Trim().Length == 0 ? limits : $"{limits}: {line.Note}";
    }

    private static JsonObject Head(Protocol protocol)
    {
        var prints = protocol.Fingerprints;
        var about = string.Join(
            "\n\n",
            [
                .. CodeHeader.Identity(protocol),
                .. CodeHeader.Cautions(protocol),
                "Scoring is done on whole numbers alone. Each variable is one line of the scoring program, with its limits, "
                    + "proved for every possible record; no value on the way reaches 2^31, the end of FHIRPath's whole numbers.",
            ]
        );
        return new JsonObject
        {
            ["resourceType"] = "Questionnaire",
            ["url"] = Url(protocol),
            ["identifier"] = new JsonArray(
                Identifier("form", prints.Form),
                Identifier("administration", prints.Administration),
                Identifier("interpretation", prints.Interpretation)
            ),
            ["version"] = FhirText.Of(protocol.Edition),
            ["name"] = CodeNames.OfType(protocol.Name),
            ["title"] = FhirText.Of(protocol.Title),
            ["status"] = "draft",
            ["experimental"] = protocol.CutOffs.Any(t => t.Basis.IsProvisional),
            ["subjectType"] = new JsonArray("Patient"),
            ["description"] = FhirText.Of(about),
        };
    }

    private static JsonObject Identifier(string kind, string value) =>
        new() { ["system"] = $"{FhirItems.Systems}fingerprint:{kind}", ["value"] = value };
}
