using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Schema;

/// <summary>
/// The JSON Schema of a protocol's record, draft 2020-12. What it allows the reader of records takes, except where
/// only the reader can tell: which tasks a stop rule, a start point, a skip or the case history leaves out, what an event stops, the order of days, and whether a second trial after a third was due.
/// Source: JSON Schema 2020-12, https://json-schema.org/draft/2020-12.
/// </summary>
public sealed class RecordSchema : IOutput
{
    public const string Draft = "https://json-schema.org/draft/2020-12/schema";

    private static readonly JsonSerializerOptions Layout = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.Create(System.Text.Unicode.UnicodeRanges.All),
    };

    public string Kind => "record-schema";

    public string Purpose => "JSON Schema of a filled record, for editors and other programs";

    public IReadOnlyList<Artefact> Render(
        Protocol protocol,
        OutputOptions options,
        TemplateSource templates
    ) => [new Artefact("record.schema.json", Write(protocol))];

    /// <summary>The whole schema, indented by two, with <c>\n</c> line ends; the same for the same protocol.</summary>
    public static string Write(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        var answers = new AnswerSchema(protocol);
        var schema = new JsonObject
        {
            ["$schema"] = Draft,
            ["title"] = $"Record of {protocol.Title}, edition {protocol.Edition}",
            ["description"] =
                "A filled record: a case code and never a name. Answers carry their full names; one that wasn't tried carries its reason.",
            ["type"] = "object",
            ["additionalProperties"] = false,
            ["required"] = Json.Texts(Required(protocol)),
            ["oneOf"] = new JsonArray(
                new JsonObject { ["required"] = Json.Texts([RecordKeys.AgeMonths]) },
                new JsonObject { ["required"] = Json.Texts([RecordKeys.Born]) }
            ),
            ["properties"] = Properties(protocol, answers.Answers()),
        };
        if (answers.Forms() is { } forms)
        {
            schema["allOf"] = forms;
        }

        schema["$defs"] = answers.Definitions();
        return schema.ToJsonString(Layout) + "\n";
    }

    /// <summary>Questions that close tasks must be answered.</summary>
    private static IEnumerable<string> History(Protocol protocol) =>
        protocol.Program.History.Any(h => h.IsNeeded) ? [RecordKeys.History] : [];

    private static IEnumerable<string> Required(Protocol protocol)
    {
        IEnumerable<string> always =
        [
            RecordKeys.Protocol,
            RecordKeys.Edition,
            RecordKeys.Case,
            RecordKeys.Parts,
        ];
        var form = protocol.HasShortForm ? [RecordKeys.Form] : Array.Empty<string>();
        var answers = protocol.Program.Answers.Count > 0 ? [RecordKeys.Answers] : Array.Empty<string>();
        return always.Concat(form).Concat(answers).Concat(History(protocol));
    }

    private static JsonObject Properties(Protocol protocol, JsonObject answers)
    {
        var side = new SideSchema(protocol);
        return new JsonObject
        {
            [RecordKeys.Protocol] = Json.Const(protocol.Name),
            [RecordKeys.Edition] = Json.Const(protocol.Edition),
            [RecordKeys.Fingerprints] = side.Fingerprints(),
            [RecordKeys.Case] = SideSchema.Code(),
            [RecordKeys.AgeMonths] = SideSchema.Whole(0, 1200),
            [RecordKeys.Born] = SideSchema.Day(),
            [RecordKeys.GestationWeeks] = SideSchema.Whole(20, 45),
            [RecordKeys.CorrectedAgeMonths] = SideSchema.Whole(0, 1200),
            [RecordKeys.Parts] = side.Parts(answers),
            [RecordKeys.Form] = Json.Enum(
                protocol.HasShortForm ? [RecordKeys.Full, RecordKeys.Short] : [RecordKeys.Full]
            ),
            [RecordKeys.Rater] = SideSchema.Rater(),
            [RecordKeys.AgreedFrom] = SideSchema.Originals(),
            [RecordKeys.Consents] = side.Consents(),
            [RecordKeys.History] = side.History(),
            [RecordKeys.Answers] = answers,
            [RecordKeys.Help] = side.Help(),
            [RecordKeys.Observations] = side.Observations(),
            [RecordKeys.Events] = side.Events(),
            [RecordKeys.Notes] = side.Notes(),
            [RecordKeys.TaskSeconds] = side.TaskSeconds(),
            [RecordKeys.Overrides] = side.Overrides(),
            [RecordKeys.Corrections] = SideSchema.Corrections(),
        };
    }
}
