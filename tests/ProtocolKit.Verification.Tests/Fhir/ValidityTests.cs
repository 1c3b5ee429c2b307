using System.Text.Json;
using System.Text.Json.Nodes;
using Firely.Fhir.Validation;
using Hl7.Fhir.Model;
using Hl7.Fhir.Serialization;
using Hl7.Fhir.Specification.Source;
using Hl7.Fhir.Specification.Terminology;
using ProtocolKit.Emit.Code.Fhir;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Testing;
using ProtocolKit.TestPrograms;
using ProtocolKit.Verification.Targets.Fhir;

namespace ProtocolKit.Verification.Tests.Fhir;

/// <summary>
/// Emitted FHIR against the definitions of R4 in Firely's validator, and what that doesn't look at: where conditions point, whether a
/// response fits its questionnaire, and whether the calculated answers are those an engine calculates.
/// </summary>
public class ValidityTests
{
    private static readonly JsonSerializerOptions Json = new JsonSerializerOptions().ForFhir();

    private static readonly Lazy<Validator> Validator = new(() =>
    {
        var source = new CachedResolver(ZipSource.CreateValidationSource());
        return new Validator(source, new LocalTerminologyService(source));
    });

    public static TheoryData<string> Protocols { get; } = ["sample", "hostile", "routed"];

    [Theory]
    [MemberData(nameof(Protocols))]
    public void Questionnaire_and_scored_records_are_valid(string name)
    {
        var protocol = ProtocolOf(name);
        AssertValid(FhirOutput.Text(protocol));
        AssertValid(FhirRecord.Write(protocol, [.. Some(protocol, 6)]));
    }

    [Theory]
    [MemberData(nameof(Protocols))]
    public void Conditions_point_at_items_of_their_type_and_every_link_id_is_there_once(string name)
    {
        var items = Items(ProtocolOf(name)).ToList();
        var types = items.ToDictionary(i => Text(i, "linkId"), i => Text(i, "type"), StringComparer.Ordinal);
        foreach (var condition in items.SelectMany(i => i["enableWhen"]?.AsArray() ?? []))
        {
            var answer = condition!
                .AsObject()
                .Single(p => p.Key.StartsWith("answer", StringComparison.Ordinal))
                .Key;
            var expected = types[Text(condition.AsObject(), "question")] switch
            {
                _ when Text(condition.AsObject(), "operator") == "exists" => "answerBoolean",
                "choice" => "answerCoding",
                "boolean" => "answerBoolean",
                _ => "answerInteger",
            };
            Assert.Equal(expected, answer);
        }
    }

    [Theory]
    [MemberData(nameof(Protocols))]
    public void A_response_fits_its_questionnaire_and_its_calculated_answers_are_those_of_an_engine(
        string name
    )
    {
        var protocol = ProtocolOf(name);
        var text = FhirOutput.Text(protocol);
        var items = Items(protocol).ToDictionary(i => Text(i, "linkId"), StringComparer.Ordinal);
        using var engine = new FirelyEngine(protocol, text);
        engine.Start();
        foreach (var scored in Some(protocol, 40))
        {
            var bundle = JsonNode.Parse(FhirRecord.Write(protocol, [scored]))!;
            var response = bundle["entry"]![0]!["resource"]!.AsObject();
            var answers = FhirResponse.Items(response).SelectMany(FhirResponse.Items).ToList();
            answers.ForEach(a => AssertFits(items[Text(a, "linkId")], a));
            var calculated = engine.Filled(response);
            var own = answers
                .Where(a => items[Text(a, "linkId")]["readOnly"] is not null)
                .ToDictionary(a => Text(a, "linkId"), ValueOf, StringComparer.Ordinal);
            var theirs = calculated.Where(c => !c.Key.StartsWith('%')).ToDictionary(StringComparer.Ordinal);
            Assert.Equal(theirs.Keys.Order(StringComparer.Ordinal), own.Keys.Order(StringComparer.Ordinal));
            Assert.All(
                own,
                o => Assert.True(IsSame(o.Value, theirs[o.Key]), $"{o.Key}: {o.Value}, {theirs[o.Key]}")
            );
        }
    }

    [Fact]
    public void A_record_carries_its_code_and_says_that_a_screen_makes_no_diagnosis()
    {
        var bundle = FhirRecord.Write(SampleScreen.Protocol(), [.. Some(SampleScreen.Protocol(), 1)]);

        Assert.Contains("\"value\": \"code-1\"", bundle, StringComparison.Ordinal);
        Assert.Contains("A screen makes no diagnosis", bundle, StringComparison.Ordinal);
    }

    private static bool IsSame(string one, string other) =>
        one == other || (decimal.TryParse(one, out var a) && decimal.TryParse(other, out var b) && a == b);

    private static void AssertFits(JsonObject item, JsonObject answered)
    {
        var value = answered["answer"]![0]!.AsObject().Single();
        var type = Text(item, "type");
        Assert.Equal(
            type == "choice" ? "valueCoding" : "value" + char.ToUpperInvariant(type[0]) + type[1..],
            value.Key
        );
        if (type == "choice")
        {
            Assert.Contains(
                item["answerOption"]!.AsArray(),
                o => (string?)o!["valueCoding"]!["code"] == (string?)value.Value!["code"]
            );
        }
    }

    private static string ValueOf(JsonObject answered) =>
        answered["answer"]![0]!.AsObject().Single().Value!.ToString();

    private static IEnumerable<ScoredRecord> Some(Protocol protocol, int count) =>
        Records
            .AllAtEdges(protocol)
            .Take(count / 2)
            .Concat(Records.Random(protocol, count - (count / 2), 7))
            .Select(
                (f, i) =>
                    Scorer.Score(
                        protocol,
                        new SittingRecord
                        {
                            Case = FormattableString.Invariant($"code-{i + 1}"),
                            Age = new Model.Age((int)f[protocol.Program.AgeField]),
                            Seen = [new DateOnly(2026, 3, 2)],
                            IsShortForm = f[protocol.Program.FormField] == 1,
                            Fields = f,
                        }
                    )
            );

    private static Protocol ProtocolOf(string name) =>
        name switch
        {
            "sample" => SampleScreen.Protocol(),
            "hostile" => HostileTextTests.Everywhere(HostileTextTests.AllAtOnce),
            _ => RoutingTests.Protocol(),
        };

    private static IEnumerable<JsonObject> Items(Protocol protocol)
    {
        var form = JsonNode.Parse(FhirOutput.Text(protocol))!.AsObject();
        return FhirResponse.Items(form).SelectMany(g => FhirResponse.Items(g).Prepend(g));
    }

    private static string Text(JsonObject node, string name) => node[name]!.GetValue<string>();

    /// <summary>
    /// Two extensions are those of Structured Data Capture, which the definitions of R4 don't hold: a warning says so, and no more.
    /// </summary>
    private static void AssertValid(string json)
    {
        var outcome = Validator.Value.Validate(JsonSerializer.Deserialize<Resource>(json, Json)!);
        Assert.All(
            outcome.Issue,
            i =>
                Assert.Matches(
                    "Unable to resolve .*(itemWeight|sdc-questionnaire-calculatedExpression)'",
                    i.Details?.Text
                )
        );
        Assert.True(outcome.Success);
    }
}
