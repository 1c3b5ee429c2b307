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
                "key",
                "old",
                "new"
            )
        );

    /// <summary>A code alone, or a code with what else is known of the rater.</summary>
    public static JsonObject Rater() =>
        new()
        {
            ["anyOf"] = new JsonArray(
                Code(),
                Json.Map(
                    new JsonObject
                    {
                        [RecordKeys.Code] = Code(),
                        [RecordKeys.Role] = Json.Text(),
                        [RecordKeys.TrainedUntil] = Day(),
                        [RecordKeys.Rated] = Json.Enum([RecordKeys.Live, RecordKeys.Recorded]),
                        [RecordKeys.Blind] = YesOrNo(),
                    },
                    RecordKeys.Code
                )
            ),
        };

    /// <summary>The two records an agreed one was made from.</summary>
    public static JsonObject Originals() =>
        Json.List(
            Json.Map(
                new JsonObject
                {
                    [RecordKeys.Rater] = Code(),
                    [RecordKeys.Digest] = new JsonObject
                    {
                        ["type"] = "string",
                        ["pattern"] = "^[0-9a-f]{16}$",
                    },
                },
                RecordKeys.Rater,
                RecordKeys.Digest
            ),
            2,
            2
        );

    public static JsonObject Whole(int least, int most) =>
        new()
        {
            ["type"] = "integer",
            ["minimum"] = least,
            ["maximum"] = most,
        };

    /// <summary>The parts of a sitting: each with its day, a later one with what it finished.</summary>
    public JsonObject Parts(JsonObject answers) =>
        Json.List(
            Json.Map(
                new JsonObject
                {
                    [RecordKeys.Seen] = Day(),
                    [RecordKeys.Answers] = Finished(answers),
                    [RecordKeys.Help] = Help(),
                    [RecordKeys.Observations] = Observations(),
                    [RecordKeys.Notes] = Notes(),
                },
                RecordKeys.Seen
            ),
            1
        );

    /// <summary>Any of the answers, none of them needed.</summary>
    private static JsonObject Finished(JsonObject answers)
    {
        var some = (JsonObject)answers.DeepClone();
        foreach (var rule in new[] { "required", "allOf", "dependentRequired", "dependentSchemas" })
        {
            some.Remove(rule);
        }

        return some;
    }

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

    public JsonObject History()
    {
        var map = Json.Map(protocol.History.Select(h => h.Name), History);
        var needed = protocol.Program.History.Where(h => h.IsNeeded).Select(h => h.Key).ToList();
        if (needed.Count > 0)
        {
            map["required"] = Json.Texts(needed);
        }

        return map;
    }

    /// <summary>Which help was given, and what came of it.</summary>
    public JsonObject Help()
    {
        var rungs = Variants()
            .Where(p => p.Task.HelpRungs().Count > 0)
            .ToDictionary(p => p.Key, p => p.Task, StringComparer.Ordinal);
        var aided = protocol
            .Program.Kept.Where(k => k.Task.HelpRungs().Count > 0 && !k.Response.IsNumber)
            .ToDictionary(k => k.Key, k => k.Response, StringComparer.Ordinal);
        return Json.Map(
            [.. rungs.Keys, .. aided.Keys],
            key =>
                rungs.TryGetValue(key, out var task)
                    ? Json.Enum(task.HelpRungs().Select(r => r.Text))
                    : AnswerSchema.Known(aided[key])
        );
    }

    public JsonObject Observations() =>
        Json.Map(
            protocol.Program.Observations.Select(o => o.Key),
            key => Json.Enum([RecordKeys.Seen, RecordKeys.Looked])
        );

    public JsonObject Notes() =>
        Json.Map(
            protocol.Tasks.Select(t => t.Name).Concat(Variants().Select(p => p.Key)).Distinct(),
            key => Json.Text()
        );

    public JsonObject TaskSeconds() =>
        Json.Map(protocol.Tasks.Select(t => t.Name), _ => Whole(0, RecordKeys.MostTaskSeconds));

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
                    ["what"] =
                        protocol.Events.Count == 0
                            ? Json.Text()
                            : Json.Enum(protocol.Events.Select(e => e.Name)),
                    ["task"] = Json.Enum(
                        protocol.Tasks.Select(t => t.Name).Concat(Variants().Select(p => p.Key)).Distinct()
                    ),
                    [RecordKeys.GivenBefore] = Json.Text(),
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

    private IEnumerable<(string Key, ProtocolTask Task)> Variants() =>
        protocol.Tasks.SelectMany(t =>
            t.Variants.Select(v => (v.Name.Length == 0 ? t.Name : $"{t.Name}.{v.Name}", t))
        );
}
