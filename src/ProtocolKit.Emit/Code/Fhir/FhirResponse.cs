using System.Globalization;
using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>Answers as a QuestionnaireResponse of FHIR R4 to a questionnaire of ours.</summary>
public static class FhirResponse
{
    /// <param name="questionnaire">As <see cref="FhirOutput.Text"/> writes it, parsed.</param>
    /// <param name="cell">
    /// The text of an answer by its column in a table of records (<see cref="ResultColumns.OfRecords"/>): a number, a name or a
    /// code; empty or null where there is none.
    /// </param>
    /// <returns>The response, with questions answered and nothing calculated.</returns>
    public static JsonObject Of(JsonObject questionnaire, Func<string, string?> cell)
    {
        ArgumentNullException.ThrowIfNull(questionnaire);
        ArgumentNullException.ThrowIfNull(cell);
        var response = new JsonObject
        {
            ["resourceType"] = "QuestionnaireResponse",
            ["questionnaire"] =
                $"{Text(questionnaire, "url")}|{Uri.EscapeDataString(Text(questionnaire, "version"))}",
            ["status"] = "completed",
        };
        foreach (var group in Items(questionnaire))
        {
            var answered = Copy(group);
            foreach (var item in Items(group).Where(i => i["readOnly"] is null))
            {
                if (Answer(item, cell) is { } answer)
                {
                    answered.Add(Answered(item, answer));
                }
            }

            if (answered["item"] is not null)
            {
                response.Add(answered);
            }
        }

        return response;
    }

    /// <summary>The items directly in a questionnaire, a response or a group.</summary>
    public static IEnumerable<JsonObject> Items(JsonObject parent) =>
        parent["item"] is JsonArray items ? items.Select(i => i!.AsObject()) : [];

    internal static string Text(JsonObject node, string name) => node[name]!.GetValue<string>();

    /// <summary>An item of a response with its answer.</summary>
    internal static JsonObject Answered(JsonObject item, JsonObject answer)
    {
        var answered = Copy(item);
        answered["answer"] = new JsonArray(answer);
        return answered;
    }

    internal static JsonObject Copy(JsonObject item) =>
        new() { ["linkId"] = Text(item, "linkId"), ["text"] = Text(item, "text") };

    private static JsonObject? Answer(JsonObject item, Func<string, string?> cell)
    {
        var id = Text(item, "linkId");
        var isUntried = id.EndsWith(FhirQuestions.Untried(""), StringComparison.Ordinal);
        var text = cell(isUntried ? id[..^FhirQuestions.Untried("").Length] : id)?.Trim() ?? "";
        if (text.Length == 0)
        {
            return null;
        }

        return Text(item, "type") switch
        {
            "boolean" => new() { ["valueBoolean"] = text == RecordKeys.Yes },
            "integer" when Parse(text) is { } number => new() { ["valueInteger"] = (long)number },
            "decimal" when Parse(text) is { } number => new() { ["valueDecimal"] = number },
            "choice" when Option(item, text) is { } coding => new() { ["valueCoding"] = coding },
            _ => null,
        };
    }

    private static decimal? Parse(string text) =>
        decimal.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            ? number
            : null;

    /// <summary>The option with this code, in full.</summary>
    private static JsonNode? Option(JsonObject item, string code) =>
        item["answerOption"]!
            .AsArray()
            .Select(o => o!["valueCoding"]!.AsObject())
            .FirstOrDefault(c => Text(c, "code") == FhirText.Code(code))
            ?.DeepClone();
}
