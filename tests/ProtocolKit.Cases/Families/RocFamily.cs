using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Accuracy;

namespace ProtocolKit.Cases.Families;

/// <summary>ROC curves: counts by rating, scores with an outcome, cases and controls, two scores on the same children.</summary>
internal static class RocFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var data = file.Data;
        if (Counts(data) is { } counts)
        {
            return Single(RocCurve.Of(counts.Cases, counts.Controls, Direction(file)), file);
        }

        return data["outcome"] is JsonArray outcome ? ByOutcome(file, outcome) : Groups(file);
    }

    private static CaseResult Single(RocCurve curve, CaseFile file)
    {
        var figures = Figures(curve, file.Confidence);
        return new CaseResult(figures, label => Named(label, curve, file.Confidence));
    }

    internal static JsonObject Figures(RocCurve curve, double confidence)
    {
        var figures = Json.Object(
            ("auc", curve.Area),
            ("delong_var", curve.DeLongVariance),
            ("delong_se", curve.DeLongVariance is { } v ? Math.Sqrt(v) : null)
        );
        figures["ci_delong"] = Json.Pair(curve.DeLongInterval(confidence));
        figures["ci_delong_logit"] = Json.Pair(curve.LogitInterval(confidence));
        figures["hanley_mcneil_se"] = curve.HanleyMcNeilError();
        figures["n_case"] = curve.Cases;
        figures["n_control"] = curve.Controls;
        figures["points"] = Json.List(curve.Points().Select(Point));
        var best = curve.BestByYouden();
        figures["max_youden"] = best[0].Youden;
        figures["best_youden"] = Json.List(best.Select(Point));
        figures["best_closest_topleft"] = Json.List(curve.ClosestToCorner().Select(Point));
        if (curve.DeLongVariance == 0)
        {
            figures["note"] =
                "The groups are separate or the area doesn't vary: DeLong's error is 0 and no interval from it is credible.";
        }

        return figures;
    }

    private static JsonNode Point(RocPoint p) =>
        Json.Object(
            ("threshold", p.Threshold),
            ("sens", p.Sensitivity),
            ("spec", p.Specificity),
            ("tp", p.TruePositives),
            ("fn", p.FalseNegatives),
            ("tn", p.TrueNegatives),
            ("fp", p.FalsePositives)
        );

    private static (double[] Cases, double[] Controls)? Counts(JsonNode data)
    {
        var normal = Input.First(data, "normal_counts", "control_counts", "controls_counts");
        var abnormal = Input.First(data, "abnormal_counts", "case_counts", "cases_counts");
        if (normal is null || abnormal is null)
        {
            return null;
        }

        var ratings = Input.List(data["ratings"], "ratings");
        return (
            Repeat(ratings, Input.List(abnormal, "cases")),
            Repeat(ratings, Input.List(normal, "controls"))
        );
    }

    private static double[] Repeat(double[] values, double[] counts) =>
        [.. values.Zip(counts).SelectMany(p => Enumerable.Repeat(p.First, (int)p.Second))];

    private static CaseResult ByOutcome(CaseFile file, JsonArray outcome)
    {
        var scores = Input.Lists(file.Data).Where(l => l.Key != "outcome").ToList();
        var positive = PositiveOutcome(file, outcome);
        var curves = scores.Select(s => (s.Key, Curve: Curve(file, s.Value, outcome, positive))).ToList();
        if (curves.Count == 1)
        {
            var figures = Figures(curves[0].Curve, file.Confidence);
            figures["pROC"] = InOtherNames(curves[0].Curve, file.Confidence);
            return new CaseResult(figures, label => Named(label, curves[0].Curve, file.Confidence));
        }

        var all = new JsonObject();
        foreach (var (key, curve) in curves)
        {
            all[key] = Figures(curve, file.Confidence);
        }

        var (a, b) = (curves[0], curves[1]);
        var paired = DeLongTest.Paired(a.Curve, b.Curve, file.Confidence);
        var unpaired = DeLongTest.Unpaired(a.Curve, b.Curve, file.Confidence);
        var name = $"paired_{a.Key}_minus_{b.Key}";
        all[name] = Paired(paired, unpaired);
        all["pROC"] = Json.Object(("stat", paired.Statistic), ("p", paired.P))
            .With(("ci", Json.Pair(paired.Interval)), ("df", null));
        all["pROC_unpaired"] = Json.Object(("stat", unpaired.Statistic), ("p", unpaired.P))
            .With(("ci", Json.Pair(unpaired.Interval)), ("df", Json.Number(unpaired.DegreesOfFreedom)));
        return new CaseResult(
            all,
            label => PairedNamed(label, paired, unpaired) ?? Named(label, a.Curve, file.Confidence)
        );
    }

    private static JsonObject Paired(AreaDifference paired, AreaDifference unpaired) =>
        Json.Object(
                ("auc1", paired.First),
                ("auc2", paired.Second),
                ("diff", paired.Difference),
                ("cov", paired.Covariance),
                ("se", paired.StandardError),
                ("z", paired.Statistic),
                ("p", paired.P)
            )
            .With(
                ("ci", Json.Pair(paired.Interval)),
                ("unpaired_D", Json.Number(unpaired.Statistic)),
                ("unpaired_df", Json.Number(unpaired.DegreesOfFreedom)),
                ("unpaired_p", Json.Number(unpaired.P))
            );

    private static JsonNode? PairedNamed(string label, AreaDifference paired, AreaDifference unpaired) =>
        label.ToLowerInvariant() switch
        {
            "paired z" => Json.Number(paired.Statistic),
            "paired p" => Json.Number(paired.P),
            "paired ci_low" => Json.Number(paired.Interval.Low),
            "paired ci_high" => Json.Number(paired.Interval.High),
            "cov" => Json.Number(paired.Covariance),
            "unpaired d" => Json.Number(unpaired.Statistic),
            "unpaired df" => Json.Number(unpaired.DegreesOfFreedom),
            "unpaired p" => Json.Number(unpaired.P),
            _ => null,
        };

    private static JsonObject InOtherNames(RocCurve curve, double confidence)
    {
        var interval = curve.DeLongInterval(confidence);
        JsonNode Place(RocPoint p) =>
            Json.Object(
                ("threshold", p.Threshold),
                ("specificity", p.Specificity),
                ("sensitivity", p.Sensitivity)
            );
        return Json.Object(
                ("auc", curve.Area),
                ("lo", interval?.Low),
                ("hi", interval?.High),
                ("var", curve.DeLongVariance)
            )
            .With(("youden", Place(curve.BestByYouden()[0])), ("topleft", Place(curve.ClosestToCorner()[0])));
    }

    private static RocCurve Curve(CaseFile file, JsonNode? scores, JsonArray outcome, string positive)
    {
        var values = Input.Gappy(scores, "scores");
        if (values.Length != outcome.Count)
        {
            throw new NotEstimableException("Scores and outcomes must be as many.");
        }

        var known = values
            .Select((v, i) => (v, o: outcome[i]?.ToString()))
            .Where(p => p.v is not null && p.o is not null)
            .ToList();
        return RocCurve.Of(
            [.. known.Where(p => p.o == positive).Select(p => p.v!.Value)],
            [.. known.Where(p => p.o != positive).Select(p => p.v!.Value)],
            Direction(file)
        );
    }

    /// <summary>The outcome that counts as a case: the one the direction names, else Poor, 1, true, case or abnormal.</summary>
    private static string PositiveOutcome(CaseFile file, JsonArray outcome)
    {
        var levels = outcome
            .Where(o => o is not null)
            .Select(o => o!.ToString())
            .Distinct(StringComparer.Ordinal)
            .ToList();
        var direction = (string?)file.Options["direction"] ?? "";
        var named = direction.Split('=').Last().Trim();
        return levels.FirstOrDefault(l => string.Equals(l, named, StringComparison.OrdinalIgnoreCase))
            ?? levels.FirstOrDefault(l =>
                l.ToLowerInvariant() is "poor" or "1" or "true" or "case" or "abnormal" or "yes" or "positive"
            )
            ?? throw new NotEstimableException(
                "It can't be told which outcome counts as a case; say so under \"direction\"."
            );
    }

    private static CaseDirection Direction(CaseFile file) =>
        new[] { "low", "<=", "less" }.Any(w =>
            ((string?)file.Options["direction"] ?? "").StartsWith(w, StringComparison.OrdinalIgnoreCase)
        )
            ? CaseDirection.Lower
            : CaseDirection.Higher;

    /// <summary>cases and controls at the top, and further named groups; a name that begins with "low" turns the direction.</summary>
    private static CaseResult Groups(CaseFile file)
    {
        var figures = new JsonObject();
        var main = Group(file.Data, Direction(file));
        if (main is not null)
        {
            figures["ties"] = Figures(main, file.Confidence);
        }

        foreach (var (name, node) in (file.Data as JsonObject ?? []).Where(p => p.Value is JsonObject))
        {
            var direction = name.StartsWith("low", StringComparison.Ordinal)
                ? CaseDirection.Lower
                : Direction(file);
            figures[name] = Json.Try(() =>
                Group(node!, direction) is { } curve ? Figures(curve, file.Confidence) : null
            );
        }

        if (main is not null && figures.Count == 1 && !file.RequestedKeys.Contains("ties"))
        {
            return Single(main, file);
        }

        return new CaseResult(figures, label => main is null ? null : Named(label, main, file.Confidence));
    }

    private static RocCurve? Group(JsonNode node, CaseDirection direction) =>
        Input.First(node, "cases", "case") is { } cases
        && Input.First(node, "controls", "control") is { } controls
            ? RocCurve.Of(Input.List(cases, "cases"), Input.List(controls, "controls"), direction)
            : null;

    private static JsonNode? Named(string label, RocCurve curve, double confidence) =>
        label switch
        {
            "AUC" or "auc" => Json.Number(curve.Area),
            "SE_Hanley_McNeil" => Json.Number(curve.HanleyMcNeilError()),
            "SE_DeLong" or "delong_se" => Json.Number(curve.DeLongVariance is { } v ? Math.Sqrt(v) : null),
            "ci_low" => Json.Number(curve.DeLongInterval(confidence)?.Low),
            "ci_high" => Json.Number(curve.DeLongInterval(confidence)?.High),
            "best_youden_threshold" => Json.Number(curve.BestByYouden()[0].Threshold),
            "best_topleft_threshold" => Json.Number(curve.ClosestToCorner()[0].Threshold),
            "max_youden" => Json.Number(curve.BestByYouden()[0].Youden),
            _ => null,
        };
}
