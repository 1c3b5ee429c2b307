using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// What a record came to as Observations of FHIR R4: one a measure or score, one an action. A value between two ends is a range, a
/// value that can't be known says why.
/// Source: FHIR R4, Observation, http://hl7.org/fhir/R4/observation.html; code system data-absent-reason.
/// </summary>
internal sealed class FhirObservations(ScoredRecord scored, JsonObject subject, string? day, string response)
{
    private const string Absent = "http://terminology.hl7.org/CodeSystem/data-absent-reason";

    private readonly string _systems = $"{FhirItems.Systems}{scored.Protocol.Name}:";

    public IEnumerable<JsonObject> All() => scored.Outcomes.Select(Of).Concat(scored.Actions.Select(Of));

    private JsonObject Of(OutcomeResult result)
    {
        var outcome = result.Outcome;
        var observation = Head("outcome-" + outcome.Name, "outcome", outcome.Name, outcome.Title);
        var notes = result.Untried.Select(u => $"{u.Key} {u.State.ToWords()}").ToList();
        if (result.State != State.Known)
        {
            observation["dataAbsentReason"] = Concept(Absent, Reason(result.State), result.State.ToWords());
        }
        else if (result.IsExact)
        {
            Value(observation, result.Low, outcome);
        }
        else
        {
            observation["valueRange"] = new JsonObject
            {
                ["low"] = Quantity(result.Low, outcome.Unit),
                ["high"] = Quantity(result.High, outcome.Unit),
            };
            notes.Insert(0, $"It lies between {result.Low} and {result.High}.");
        }

        foreach (
            var band in scored.Bands.Where(b =>
                b.Table.Outcome.Name == outcome.Name && b.Table.ShortForm == scored.Record.IsShortForm
            )
        )
        {
            observation["interpretation"] = new JsonArray(Interpretation(band));
            notes.Add(
                $"{(band.Table.Basis.IsProvisional ? "Provisional cut-offs" : "Cut-offs")}: {band.Table.Basis.Text}"
            );
        }

        observation["note"] = Notes(notes);
        return observation;
    }

    private JsonObject Of(ActionResult result)
    {
        var action = result.Action;
        var observation = Head("action-" + action.Name, "action", action.Name, action.Title);
        var code = result.Word.Replace(' ', '-');
        observation["valueCodeableConcept"] = Concept(FhirItems.Systems + "decision", code, result.Word);
        List<string> notes = action.Urgency is { } urgency ? [urgency] : [];
        if (scored.Headline?.Name == action.Name)
        {
            notes.Add("The most severe action that applies.");
        }

        observation["note"] = Notes(notes);
        return observation;
    }

    private JsonObject Head(string id, string kind, string code, string text)
    {
        var observation = new JsonObject
        {
            ["resourceType"] = "Observation",
            ["status"] = "final",
            ["code"] = Concept(_systems + kind, code, text),
            ["subject"] = subject.DeepClone(),
        };
        observation["identifier"] = new JsonArray(
            new JsonObject
            {
                ["system"] = FhirItems.Systems + "result",
                ["value"] = FhirText.Of($"{scored.Record.Case}/{id}"),
            }
        );
        if (day is not null)
        {
            observation["effectiveDateTime"] = day;
        }

        observation["derivedFrom"] = new JsonArray(new JsonObject { ["reference"] = response });
        return observation;
    }

    private static void Value(JsonObject observation, Rational value, Outcome outcome)
    {
        if (value.ToString().Contains('/', StringComparison.Ordinal))
        {
            observation["valueRatio"] = new JsonObject
            {
                ["numerator"] = Quantity(new Rational(value.Numerator, 1), outcome.Unit),
                ["denominator"] = Quantity(new Rational(value.Denominator, 1), Unit.One),
            };
        }
        else
        {
            observation["valueQuantity"] = Quantity(value, outcome.Unit);
        }
    }

    private static JsonObject Quantity(Rational value, Unit unit) =>
        new()
        {
            ["value"] = FhirItems.Number(value),
            ["unit"] = FhirText.Of(unit.ToString()),
            ["system"] = FhirItems.Units,
            ["code"] = FhirItems.Ucum(unit),
        };

    private JsonObject Interpretation(BandResult band) =>
        band is { State: BandState.Known, Band: { } known }
            ? Concept(_systems + "band", known.Name, known.Text)
            : new JsonObject { ["text"] = band.Word };

    private static JsonObject Concept(string system, string code, string text) =>
        new()
        {
            ["coding"] = new JsonArray(FhirItems.Coding(system, code, text)),
            ["text"] = FhirText.Of(text),
        };

    private static string Reason(State state) =>
        state switch
        {
            State.NotApplicable => "not-applicable",
            State.Refused => "asked-declined",
            _ => "not-performed",
        };

    private static JsonArray Notes(IEnumerable<string> texts) =>
        [
            .. texts
                .Append(
                    "A screen makes no diagnosis; local rules and the judgement of a licensed practitioner come first."
                )
                .Select(t => new JsonObject { ["text"] = FhirText.Of(t) }),
        ];
}
