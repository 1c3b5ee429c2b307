using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>When a question is asked: on its form, where routing gives its task, and a further trial once it is due.</summary>
internal sealed class FhirEnabling(
    Protocol protocol,
    FhirPlaces places,
    FhirQuestions questions,
    IReadOnlyList<string> lines
)
{
    private readonly GivenTasks _given = new(protocol.Program);

    public void Apply(FhirAnswer answer)
    {
        var slot = answer.Slot;
        var conditions = Conditions(answer).ToList();
        var item = questions.Item(slot.Key);
        Set(item, conditions);
        if (slot.Response.IsNumber)
        {
            var absent = When(slot.Key, "exists", "Boolean", false);
            Set(questions.Item(FhirQuestions.Untried(slot.Key)), [absent, .. Conditions(answer)]);
        }
        else
        {
            item["required"] = answer.Need.Length == 0 && !GivenTasks.IsHelpGiven(slot);
        }
    }

    private IEnumerable<JsonObject> Conditions(FhirAnswer answer)
    {
        var slot = answer.Slot;
        if (answer.Off.Length > 0)
        {
            var full = FhirItems.Coding(
                $"{FhirItems.Systems}{protocol.Name}:form",
                RecordKeys.Full,
                "the full form"
            );
            yield return When(RecordKeys.Form, "=", "Coding", full);
        }

        if (_given.LineOf(slot) is >= 0 and var line)
        {
            var given = places.Route(protocol.Program.Lines[line].Name, "boolean", lines[line]);
            yield return When(given, "=", "Boolean", true);
        }

        if (answer.Need.Length > 0)
        {
            var need = places.Route(slot.Key + ".need", "integer", answer.Need);
            yield return When(need, "<=", "Integer", 1);
        }
    }

    private static void Set(JsonObject item, List<JsonObject> conditions)
    {
        if (conditions.Count > 0)
        {
            item["enableWhen"] = new JsonArray([.. conditions]);
        }

        if (conditions.Count > 1)
        {
            item["enableBehavior"] = "all";
        }
    }

    private static JsonObject When(string question, string sign, string type, JsonNode value) =>
        new()
        {
            ["question"] = question,
            ["operator"] = sign,
            ["answer" + type] = value,
        };
}
