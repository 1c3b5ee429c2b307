using System.Globalization;
using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// Scored records as a Bundle of FHIR R4: for each a QuestionnaireResponse to the emitted questionnaire, with its calculated answers,
/// and its Observations. The subject is the case code; a name stands nowhere.
/// </summary>
public static class FhirRecord
{
    /// <exception cref="OutputRefusedException">The program exceeds what FHIRPath can hold.</exception>
    public static string Write(Protocol protocol, IReadOnlyList<ScoredRecord> scored)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(scored);
        FhirOutput.CheckLimits(protocol);
        var questionnaire = FhirQuestionnaire.Of(protocol).Questionnaire;
        var entries = scored.SelectMany((s, i) => Entries(questionnaire, s, i + 1));
        return FhirQuestionnaire.Write(
            new JsonObject
            {
                ["resourceType"] = "Bundle",
                ["type"] = "collection",
                ["entry"] = new JsonArray([.. entries]),
            }
        );
    }

    private static IEnumerable<JsonNode> Entries(JsonObject questionnaire, ScoredRecord scored, int number)
    {
        var place = FormattableString.Invariant($"{FhirItems.Systems}record:{number}");
        var subject = new JsonObject
        {
            ["identifier"] = new JsonObject
            {
                ["system"] = FhirItems.Systems + "case",
                ["value"] = FhirText.Of(scored.Record.Case),
            },
        };
        var day =
            scored.Record.Seen.Count == 0
                ? null
                : scored.Record.Seen[0].ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        var response = Response(questionnaire, scored);
        response["subject"] = subject.DeepClone();
        if (day is not null)
        {
            response["authored"] = day;
        }

        yield return Entry(place + ":response", response);
        var observations = new FhirObservations(scored, subject, day, place + ":response").All();
        foreach (var (observation, i) in observations.Select((o, i) => (o, i + 1)))
        {
            yield return Entry(FormattableString.Invariant($"{place}:observation-{i}"), observation);
        }
    }

    private static JsonObject Entry(string url, JsonObject resource) =>
        new() { ["fullUrl"] = url, ["resource"] = resource };

    /// <summary>With calculated answers: a form filler that reads it again may not work them out.</summary>
    private static JsonObject Response(JsonObject questionnaire, ScoredRecord scored)
    {
        var cells = new FhirCells(scored.Protocol, scored.Record.Fields);
        var response = FhirResponse.Of(questionnaire, cells.Of);
        var results = FhirCalculated.Of(scored, cells);
        foreach (var group in FhirResponse.Items(questionnaire))
        {
            var calculated = FhirResponse
                .Items(group)
                .Where(i => results.ContainsKey(FhirResponse.Text(i, "linkId")))
                .Select(i =>
                    FhirResponse.Answered(i, results[FhirResponse.Text(i, "linkId")].DeepClone().AsObject())
                )
                .ToList();
            if (calculated.Count > 0)
            {
                var copy = FhirResponse.Copy(group);
                calculated.ForEach(copy.Add);
                response.Add(copy);
            }
        }

        return response;
    }
}
