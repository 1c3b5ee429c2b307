using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Norms;

namespace ProtocolKit.Cases.Families;

/// <summary>Published norm tables by age where more seconds are worse, and ratios of two times.</summary>
internal static partial class TableFamily
{
    public static CaseResult Compute(CaseFile file) => file.Data["ages"] is null ? Facts(file) : Table(file);

    private static CaseResult Table(CaseFile file)
    {
        var ages = Input.List(file.Data["ages"], "ages");
        var seconds =
            file.Data["seconds"] as JsonObject
            ?? throw new NotEstimableException("A table of seconds by task is needed.");
        var rates = new JsonObject();
        foreach (var (task, values) in seconds)
        {
            var repetitions = Input.Number(file.Data["repetitions"]?[task], "repetitions of " + task);
            var syllables = repetitions * Syllables(task);
            rates[task] = Json.Numbers(Input.List(values, task).Select(s => syllables / s));
        }

        var figures = new JsonObject { ["syllables_per_second"] = rates };
        if ((file.Requested("task", "age", "seconds") as JsonObject)?["examples"] is JsonArray examples)
        {
            figures["examples"] = Json.List(
                examples.Select(e => Json.Try(() => Example(file, ages, (JsonObject)e!)))
            );
        }

        var keys = file
            .RequestedKeys.Where(k => k.StartsWith("interpolated_", StringComparison.Ordinal))
            .ToList();
        foreach (var key in keys.Count > 0 ? keys : ["interpolated_7.5_years"])
        {
            var age = double.Parse(AgePattern().Match(key).Value, CultureInfo.InvariantCulture);
            figures[key] = new JsonObject(
                seconds.Select(s =>
                    KeyValuePair.Create(
                        s.Key,
                        Json.Try(() => Json.Number(AgeTable.At(ages, Input.List(s.Value, s.Key), age)))
                    )
                )
            );
        }

        return new CaseResult(figures, label => Named(label, ages, seconds));
    }

    private static JsonObject Example(CaseFile file, double[] ages, JsonObject example)
    {
        var task = (string?)example["task"] ?? "";
        var (age, taken) = (Input.Number(example["age"], "age"), Input.Number(example["seconds"], "seconds"));
        var deviations = Syllables(task) == 1 ? "sd_single_syllables" : "sd_trisyllable";
        var mean = AgeTable.At(ages, Input.List(file.Data["seconds"]?[task], task), age);
        var z = (taken - mean) / AgeTable.At(ages, Input.List(file.Data[deviations], deviations), age);
        return new JsonObject { ["task"] = task }.With(
            ("age", age),
            ("seconds", taken),
            ("z_time (x-mean)/sd", z),
            ("z_performance = -z_time (slow is poor)", -z)
        );
    }

    /// <summary>"puh 6": the table's own value.</summary>
    private static JsonNode? Named(string label, double[] ages, JsonObject seconds) =>
        label.Split(' ') is [var task, var age]
        && seconds[task] is { } row
        && double.TryParse(age, CultureInfo.InvariantCulture, out var a)
            ? Json.Number(AgeTable.At(ages, Input.List(row, task), a))
            : null;

    private static int Syllables(string task) => SyllablePattern().Count(task) is > 0 and var n ? n : 1;

    private static CaseResult Facts(CaseFile file)
    {
        var figures = new JsonObject();
        if ((file.Requested("s", "z") as JsonObject)?["sz"] is JsonArray rows)
        {
            figures["sz"] = Json.List(
                rows.Select(r =>
                {
                    var (s, z) = (Input.Number(r?["s"], "s"), Input.Number(r?["z"], "z"));
                    double? ratio = z > 0 ? s / z : null;
                    return (JsonNode?)
                        Json.Object(("s", s), ("z", z), ("ratio", ratio))
                            .With(("above_1.4", ratio is { } q ? JsonValue.Create(q > 1.4) : null));
                })
            );
        }

        return new CaseResult(figures);
    }

    [GeneratedRegex(@"[ptk]uh")]
    private static partial Regex SyllablePattern();

    [GeneratedRegex(@"\d+(?:\.\d+)?")]
    private static partial Regex AgePattern();
}
