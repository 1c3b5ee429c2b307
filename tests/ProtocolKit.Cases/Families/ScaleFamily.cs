using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Scales;

namespace ProtocolKit.Cases.Families;

/// <summary>Structures of published scales: reachable totals, patterns, bands.</summary>
internal static partial class ScaleFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var items = (
            (file.Data["items"] as JsonArray) ?? throw new NotEstimableException("A scale needs items.")
        )
            .Select(i => (JsonObject)i!)
            .ToList();
        var allowed = items
            .Select(i =>
                (IReadOnlyList<decimal>)
                    [.. Input.List(i["allowed"], "allowed scores").Select(v => (decimal)v)]
            )
            .ToList();
        var labels = items.Select(i => (string?)i["label"] ?? "").ToList();
        var structure = ScaleStructure.Of(allowed, Exclusive((string?)file.Data["rule"], labels));
        (decimal From, decimal To)[] bands =
        [
            .. (file.Data["bands"] as JsonArray ?? []).Select(b =>
                ((decimal)Input.Number(b?["from"], "from"), (decimal)Input.Number(b?["to"], "to"))
            ),
        ];
        var step = allowed.SelectMany(a => a).All(v => v == Math.Floor(v)) ? 1m : 0.5m;
        var patterns = new JsonObject();
        foreach (var (total, count) in structure.Patterns)
        {
            patterns[Text(total)] = JsonValue.Create((decimal)count);
        }

        var figures = new JsonObject
        {
            ["min"] = Plain(structure.Totals[0]),
            ["max"] = Plain(structure.Totals[^1]),
            ["n_reachable"] = structure.Totals.Count,
            ["reachable_totals"] = List(structure.Totals),
            ["unreachable_on_grid_of_" + Text(step)] = List(structure.Unreachable(step)),
            ["n_answer_patterns"] = JsonValue.Create((decimal)structure.AnswerPatterns),
            ["patterns_per_total"] = patterns,
            ["reachable_totals_not_in_exactly_one_band"] = List(
                ScaleStructureResult.NotInOneBand(structure.Totals, bands)
            ),
            ["grid_totals_not_in_exactly_one_band"] = List(
                ScaleStructureResult.NotInOneBand(structure.Grid(step), bands)
            ),
        };
        return new CaseResult(figures, label => figures[label]);
    }

    /// <summary>"A2 (75 and over) and A (65-74) exclude each other".</summary>
    private static List<(int First, int Second)> Exclusive(string? rule, List<string> labels)
    {
        if (rule is null)
        {
            return [];
        }

        var m = ExcludePattern().Match(rule);
        var (a, b) = m.Success
            ? (labels.IndexOf(m.Groups[1].Value), labels.IndexOf(m.Groups[2].Value))
            : (-1, -1);
        return a >= 0 && b >= 0
            ? [(a, b)]
            : throw new NotEstimableException(
                $"The rule \"{rule}\" is not understood; \"A and B exclude each other\" is."
            );
    }

    private static JsonArray List(IEnumerable<decimal> totals) => Json.List(totals.Select(Plain));

    /// <summary>12 and not 12.0.</summary>
    private static JsonNode? Plain(decimal value) =>
        value == Math.Floor(value) ? JsonValue.Create((long)value) : JsonValue.Create(value);

    private static string Text(decimal value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^(\S+)(?: \([^)]*\))? and (\S+)(?: \([^)]*\))? exclude each other")]
    private static partial Regex ExcludePattern();
}
