using System.Globalization;
using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Schema;

/// <summary>The answers: every key by its full name, what it may hold, and which must be there.</summary>
internal sealed class AnswerSchema
{
    private const string UntriedName = "untried";
    private const string GivenName = "given";

    private readonly Protocol _protocol;
    private readonly IReadOnlyList<AnswerSlot> _slots;

    /// <summary>The same kind of answer is defined once: by its schema's text, the name it got.</summary>
    private readonly Dictionary<string, string> _names = new(StringComparer.Ordinal);
    private readonly JsonObject _definitions = new()
    {
        [UntriedName] = new JsonObject
        {
            ["description"] =
                "Why an answer was not tried. An attempt without the movement is an answer, not a code.",
            ["enum"] = Json.Texts(States.Untried.Select(u => u.Code)),
        },
        [GivenName] = new JsonObject { ["not"] = Json.Nothing() },
    };

    public AnswerSchema(Protocol protocol)
    {
        _protocol = protocol;
        _slots = [.. protocol.Program.Answers.Where(a => !a.IsHelp)];
    }

    public JsonObject Definitions() => _definitions;

    public JsonObject Answers()
    {
        var properties = new JsonObject();
        foreach (var slot in _slots)
        {
            var answer = Json.Reference(Define(slot));
            properties[slot.Key] = MayBeBlank(slot) ? Json.Any(answer, Json.Nothing()) : answer;
        }

        var map = _protocol.HasShortForm
            ? Json.Map(properties)
            : Json.Map(properties, [.. _slots.Where(IsAlwaysGiven).Select(s => s.Key)]);
        if (Further() is { Count: > 0 } rules)
        {
            map["allOf"] = rules;
        }

        return map;
    }

    /// <summary>Which answers each form needs; nothing where there is one form.</summary>
    public JsonArray? Forms()
    {
        if (!_protocol.HasShortForm)
        {
            return null;
        }

        return
        [
            new JsonObject
            {
                ["if"] = new JsonObject
                {
                    ["properties"] = new JsonObject { [RecordKeys.Form] = Json.Const(RecordKeys.Short) },
                },
                ["then"] = OfAnswers(ShortForm()),
                ["else"] = OfAnswers(FullForm()),
            },
        ];
    }

    private static JsonObject OfAnswers(JsonObject answers) =>
        new() { ["properties"] = new JsonObject { [RecordKeys.Answers] = answers } };

    private JsonObject FullForm()
    {
        var needed = _slots.Where(IsAlwaysGiven).ToList();
        return new JsonObject
        {
            ["properties"] = Each(needed.Where(MayBeBlank), () => Json.Reference(GivenName)),
            ["required"] = Json.Texts(needed.Select(s => s.Key)),
        };
    }

    private JsonObject ShortForm()
    {
        var notPlanned = States.Untried.First(u => u.State == State.NotPlanned).Code;
        return new JsonObject
        {
            ["properties"] = Each(
                _slots.Where(s => !s.Task.ShortForm),
                () => new JsonObject { ["enum"] = new JsonArray(notPlanned, null) }
            ),
            ["required"] = Json.Texts(
                _slots.Where(s => s.Task.ShortForm && IsAlwaysGiven(s)).Select(s => s.Key)
            ),
        };
    }

    private static JsonObject Each(IEnumerable<AnswerSlot> slots, Func<JsonObject> schema)
    {
        var properties = new JsonObject();
        foreach (var slot in slots)
        {
            properties[slot.Key] = schema();
        }

        return properties;
    }

    private static bool IsFurther(AnswerSlot slot) =>
        slot.Trial > 1 && slot.Task.Trials.FurtherWhen is not null;

    private bool IsAlwaysGiven(AnswerSlot slot) => !IsFurther(slot) && !IsRouted(slot);

    /// <summary>Only the reader can tell whether such a task was to be given.</summary>
    private bool IsRouted(AnswerSlot slot) =>
        _protocol.Program.Giving.Any(g => g.Task == slot.Task && g.Variant == slot.Variant);

    private bool MayBeBlank(AnswerSlot slot) =>
        IsFurther(slot) || IsRouted(slot) || (_protocol.HasShortForm && !slot.Task.ShortForm);

    /// <summary>A trial below the limit needs the next one.</summary>
    private JsonArray Further()
    {
        var rules = new JsonArray();
        foreach (
            var slot in _slots.Where(s =>
                s.Task.Trials.FurtherWhen is { } rule && rule.Response == s.Response.Name
            )
        )
        {
            var next = _slots
                .Where(s => s.Task == slot.Task && s.Variant == slot.Variant && s.Trial == slot.Trial + 1)
                .ToList();
            if (next.Count > 0)
            {
                rules.Add(
                    (JsonNode)
                        new JsonObject
                        {
                            ["if"] = new JsonObject
                            {
                                ["properties"] = new JsonObject { [slot.Key] = Below(slot) },
                                ["required"] = Json.Texts([slot.Key]),
                            },
                            ["then"] = new JsonObject
                            {
                                ["properties"] = Each(next, () => Json.Reference(GivenName)),
                                ["required"] = Json.Texts(next.Select(s => s.Key)),
                            },
                        }
                );
            }
        }

        return rules;
    }

    private static JsonObject Below(AnswerSlot slot) =>
        new()
        {
            ["type"] = "number",
            ["exclusiveMaximum"] = NumberSchema.Literal(slot.Task.Trials.FurtherWhen!.Below),
        };

    private string Define(AnswerSlot slot)
    {
        var schema = Json.Any(Known(slot.Response), Json.Reference(UntriedName));
        var text = schema.ToJsonString();
        if (_names.TryGetValue(text, out var known))
        {
            return known;
        }

        var name = string.Create(CultureInfo.InvariantCulture, $"{slot.Task.Name}.{slot.Response.Name}");
        _names[text] = name;
        _definitions[name] = schema;
        return name;
    }

    /// <summary>What an answer may be once it is given.</summary>
    internal static JsonObject Known(Response response)
    {
        if (response.HasOptions)
        {
            return Json.Enum(response.Options.Select(o => o.Name));
        }

        return response.Kind == ResponseKind.Rating
            ? new JsonObject
            {
                ["enum"] = new JsonArray([
                    .. response.Scale!.Levels.Select(l => NumberSchema.Literal(l.Points)),
                ]),
            }
            : NumberSchema.Of(response);
    }
}
