using System.Text.Json.Nodes;
using ProtocolKit.Cases;

namespace ProtocolKit.Calibration.Tests;

/// <summary>
/// Every check runs through the same program as any other case: published figures at their printed digits first, then
/// figures recomputed by other programs at the case's tolerance.
/// </summary>
public class CheckTests
{
    public static TheoryData<string> Checks => [.. CheckFile.Ids];

    [Theory]
    [MemberData(nameof(Checks))]
    public void Published_figures_are_met_at_their_printed_digits(string id)
    {
        var check = CheckFile.Read(id);
        var answer = Answering.Answer(CheckFile.Text(id));
        Assert.Null(answer["error"]);
        var wrong = (check["expected_published"] as JsonObject ?? [])
            .Select(p => Published.Difference(id, p.Key, p.Value, answer["expected_published"]![p.Key]))
            .OfType<string>();
        Assert.Empty(wrong);
    }

    [Theory]
    [MemberData(nameof(Checks))]
    public void Recomputed_figures_are_met_at_the_cases_tolerance(string id)
    {
        var check = CheckFile.Read(id);
        var answer = Answering.Answer(CheckFile.Text(id));
        Assert.Null(answer["error"]);
        var wrong = Comparison.Differences(
            check["expected_recomputed"],
            answer["expected_recomputed"],
            "",
            Tolerances.Of(id)
        );
        Assert.Empty(wrong);
    }

    /// <summary>With every expected figure changed the answer stays the same to the byte: none is ever read.</summary>
    [Theory]
    [MemberData(nameof(Checks))]
    public void Expected_figures_are_never_read(string id)
    {
        var check = CheckFile.Read(id);
        var before = Answering.Answer(check.ToJsonString()).ToJsonString();
        foreach (var part in new[] { "expected_published", "expected_recomputed" })
        {
            check[part] = Disturb(check[part], "", Arguments.Of(id));
        }

        Assert.Equal(before, Answering.Answer(check.ToJsonString()).ToJsonString());
    }

    private static JsonNode? Disturb(JsonNode? node, string name, IReadOnlyList<string> arguments) =>
        node switch
        {
            JsonObject o => new JsonObject(
                o.Select(p => KeyValuePair.Create(p.Key, Disturb(p.Value, p.Key, arguments)))
            ),
            JsonArray a when arguments.Contains(name) => a.DeepClone(),
            JsonArray a => new JsonArray([.. a.Select(e => Disturb(e, name, arguments))]),
            null => null,
            _ => arguments.Contains(name) ? node.DeepClone() : JsonValue.Create(987654.321),
        };
}
