using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Schema;

/// <summary>The parts of the schema beside the answers.</summary>
internal sealed class SideSchema(Protocol protocol)
{
    /// <summary>Letters, digits and hyphens, at least one digit, at most 20: no child's name.</summary>
    public static JsonObject Code() =>
        new()
        {
            ["description"] =
                "A code and never a name: at most 20 letters, digits and hyphens, at least one of them a digit.",
            ["type"] = Json.Texts(["string", "integer"]),
            ["pattern"] = "^(?=.*[0-9])[A-Za-z0-9][A-Za-z0-9-]{0,19}$",
            ["minimum"] = 0,
            ["maximum"] = 9007199254740991,
        };

    public static JsonObject Day() =>
        new()
        {
            ["type"] = "string",
            ["format"] = "date",
            ["pattern"] = "^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$",
        };

    public static JsonObject Corrections() =>
        Json.List(
            Json.Map(
                new JsonObject
                {
                    ["who"] = Code(),
                    ["when"] = Day(),
                    ["why"] = Json.Text(),
                    ["old"] = Json.TextOrNumber(),
                    ["new"] = Json.TextOrNumber(),
                    ["key"] = Json.Text(),
                },
                "who",
                "when",
                "why",
                "old",
                "new"
            )
        );

    public JsonObject Fingerprints() =>
        Json.Map(
            new JsonObject
            {
                ["form"] = Json.Const(protocol.Fingerprints.Form),
                ["administration"] = Json.Const(protocol.Fingerprints.Administration),
                ["interpretation"] = new JsonObject { ["type"] = "string", ["pattern"] = "^[0-9a-f]{16}$" },
            }
        );

    public JsonObject Consents() =>
        Json.Map(
            protocol.Consents.Select(c => c.Name),
            name => Described(YesOrNo(), protocol.Consents.First(c => c.Name == name).Text)
        );

    public JsonObject History() => Json.Map(protocol.History.Select(h => h.Name), History);

    public JsonObject Help() =>
        Json.Map(
            Parts().Where(p => p.Task.Help.Count > 0).Select(p => p.Key),
            key => Json.Enum(Parts().First(p => p.Key == key).Task.Help.Select(r => r.Text))
        );

    public JsonObject Observations() =>
        Json.Map(
            protocol.Program.Observations.Select(o => o.Key),
            key => Json.Enum([RecordKeys.Seen, RecordKeys.Looked])
        );

    public JsonObject Notes() =>
        Json.Map(
            protocol.Tasks.Select(t => t.Name).Concat(Parts().Select(p => p.Key)).Distinct(),
            key => Json.Text()
        );

    public JsonObject Overrides() =>
        Json.List(
            Json.Map(
                new JsonObject
                {
                    ["action"] = Json.Enum(protocol.Actions.Select(a => a.Name)),
                    ["reason"] = Json.Text(),
                    ["role"] = Json.Text(),
                },
                "action",
                "reason",
                "role"
            ),
            0,
            1
        );

    public JsonObject Events() =>
        Json.List(
            Json.Map(
                new JsonObject
                {
                    ["what"] = Json.Text(),
                    ["task"] = Json.Enum(protocol.Tasks.Select(t => t.Name)),
                    ["touched"] = Json.Text(),
                    ["recovered"] = Json.Text(),
                    ["done"] = Json.Text(),
                },
                "what"
            )
        );

    private static JsonObject YesOrNo() => Json.Enum([RecordKeys.Yes, RecordKeys.No]);

    private static JsonObject Described(JsonObject schema, string text)
    {
        schema["description"] = text;
        return schema;
    }

    private JsonObject History(string name)
    {
        var question = protocol.History.First(h => h.Name == name);
        return Described(question.Kind == HistoryAnswer.YesNo ? YesOrNo() : Json.Text(), question.Text);
    }

    private IEnumerable<(string Key, ProtocolTask Task)> Parts() =>
        protocol.Tasks.SelectMany(t =>
            t.Variants.Select(v => (v.Name.Length == 0 ? t.Name : $"{t.Name}.{v.Name}", t))
        );
}
