using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Accuracy;

namespace ProtocolKit.Cases.Families;

/// <summary>2 × 2 tables of a screen against a reference, zero cells, and predictive values at other prevalences.</summary>
internal static partial class DiagnosticFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var data = file.Data;
        if (data["prevalences"] is { } prevalences)
        {
            return Bayes(file, Input.List(prevalences, "prevalences"));
        }

        if (data["TP"] is not null)
        {
            var table = Table([Cell("TP"), Cell("FP"), Cell("FN"), Cell("TN")]);
            var figures = Figures(table, table, file.Confidence);
            return new CaseResult(figures, label => Named(label, figures));
        }

        var rows = data["rows_TP_FP_FN_TN"] as JsonObject ?? data as JsonObject ?? [];
        var each = new JsonObject();
        foreach (var (name, row) in rows.Where(r => Input.IsList(r.Value) || Input.IsTable(r.Value)))
        {
            var table = Table(
                Input.IsTable(row) ? [.. Input.Table(row, name).SelectMany(r => r)] : Input.List(row, name)
            );
            each[name] = new JsonObject
            {
                ["uncorrected"] = Figures(table, table, file.Confidence),
                ["plus_half"] = Figures(table, table.PlusHalf(), file.Confidence),
            };
        }

        if (each.Count == 0)
        {
            throw new NotEstimableException("A diagnostic table needs four counts: TP, FP, FN and TN.");
        }

        return new CaseResult(each, label => Path(each, label));

        double Cell(string name) => Input.Number(data[name], name);
    }

    private static DiagnosticTable Table(double[] cells) =>
        cells.Length == 4 && cells.All(c => c >= 0)
            ? new DiagnosticTable(cells[0], cells[1], cells[2], cells[3])
            : throw new NotEstimableException(
                "A diagnostic table needs four counts of zero or more: TP, FP, FN and TN."
            );

    /// <summary>Shares of the table as it is, ratios of the one they are to be computed from.</summary>
    private static JsonObject Figures(DiagnosticTable table, DiagnosticTable forRatios, double confidence) =>
        new()
        {
            ["sensitivity"] = Share(table.Sensitivity(confidence)),
            ["specificity"] = Share(table.Specificity(confidence)),
            ["PPV"] = Share(table.PositivePredictive(confidence)),
            ["NPV"] = Share(table.NegativePredictive(confidence)),
            ["accuracy"] = Share(table.Accuracy(confidence)),
            ["prevalence"] = Share(table.Prevalence(confidence)),
            ["apparent_prevalence"] = Share(table.ApparentPrevalence(confidence)),
            ["LR_positive"] = Ratio(forRatios.LikelihoodPositive(confidence)),
            ["LR_negative"] = Ratio(forRatios.LikelihoodNegative(confidence)),
            ["DOR"] = Ratio(forRatios.OddsRatio(confidence)),
            ["youden"] = Json.Number(table.Youden),
            ["number_needed_to_diagnose"] = Json.Number(table.NumberNeededToDiagnose),
            ["F1"] = Json.Number(table.F1),
            ["balanced_accuracy"] = Json.Number(table.BalancedAccuracy),
            ["MCC"] = Json.Number(table.Matthews),
        };

    private static JsonObject? Share(Share? s) =>
        s is null
            ? null
            : Json.Object(("est", s.Estimate))
                .With(
                    ("wilson", Json.Pair(s.Wilson)),
                    ("clopper_pearson", Json.Pair(s.ClopperPearson)),
                    ("wald", Json.Pair(s.Wald))
                );

    private static JsonObject Ratio(Ratio r)
    {
        var result = Json.Object(("est", r.Estimate));
        if (r.LogError is { } error)
        {
            result["se_log"] = error;
        }

        return result.With(("ci", Json.Pair(r.Interval)));
    }

    private static CaseResult Bayes(CaseFile file, double[] prevalences)
    {
        var sets = file.RequestedKeys.Count > 0 ? file.RequestedKeys : ["given"];
        var figures = new JsonObject();
        foreach (var key in sets)
        {
            var (sensitivity, specificity) =
                Rounded(key) ?? (Given(file.Data["sens"]), Given(file.Data["spec"]));
            figures[key] = Json.List(prevalences.Select(p => (JsonNode?)Row(sensitivity, specificity, p)));
        }

        // Where a set of rounded shares is asked for, the published figures were computed from it by hand.
        var printed =
            sets.Select(Rounded).FirstOrDefault(r => r is not null)
            ?? (Given(file.Data["sens"]), Given(file.Data["spec"]));
        return new CaseResult(figures, label => BayesNamed(label, printed.Item1, printed.Item2));
    }

    private static JsonObject Row(double sensitivity, double specificity, double prevalence) =>
        Json.Object(
            ("prevalence", prevalence),
            ("PPV", PredictiveValues.Positive(sensitivity, specificity, prevalence)),
            ("NPV", PredictiveValues.Negative(sensitivity, specificity, prevalence)),
            ("post_odds_LR_route", PredictiveValues.ByOdds(sensitivity, specificity, prevalence))
        );

    /// <summary>"PPV at .25".</summary>
    private static JsonNode? BayesNamed(string label, double sensitivity, double specificity)
    {
        var words = label.Split(" at ");
        return words.Length == 2 && double.TryParse(words[1], CultureInfo.InvariantCulture, out var p)
            ? Row(sensitivity, specificity, p)[words[0]]
            : null;
    }

    /// <summary>A share, or a count of a count.</summary>
    private static double Given(JsonNode? node) =>
        node is JsonArray { Count: 2 }
            ? Input.List(node, "share") is [var x, var n]
                ? x / n
                : 0
            : Input.Number(node, "sens or spec");

    private static (double, double)? Rounded(string key) =>
        RoundedPattern().Match(key) is { Success: true } m
            ? (
                double.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture),
                double.Parse(m.Groups[2].Value, CultureInfo.InvariantCulture)
            )
            : null;

    private static JsonNode? Named(string label, JsonObject figures)
    {
        var name = label.Split('_')[0] switch
        {
            "sens" or "sensitivity" => "sensitivity",
            "spec" or "specificity" => "specificity",
            "LR+" => "LR_positive",
            "LR-" => "LR_negative",
            "NND" => "number_needed_to_diagnose",
            "acc" or "accuracy" => "accuracy",
            "prev" or "prevalence" => "prevalence",
            var other => other,
        };
        if (figures[name] is not JsonObject entry)
        {
            return figures[name];
        }

        var interval = entry["clopper_pearson"] ?? entry["ci"];
        return label.EndsWith("_low", StringComparison.Ordinal) ? interval?[0]
            : label.EndsWith("_high", StringComparison.Ordinal) ? interval?[1]
            : entry["est"];
    }

    private static JsonNode? Path(JsonNode node, string dotted) =>
        dotted.Split('.').Aggregate((JsonNode?)node, (at, key) => (at as JsonObject)?[key]);

    [GeneratedRegex(@"rounded (0?\.\d+)/(0?\.\d+)")]
    private static partial Regex RoundedPattern();
}
