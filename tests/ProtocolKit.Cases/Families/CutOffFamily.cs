using System.Text.Json.Nodes;
using ProtocolKit.Calibration.Change;
using ProtocolKit.Calibration.CutOffs;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Cases.Families;

/// <summary>Ways to set a cut: contrasting groups, borderline group, Angoff, Hofstee; conditional errors.</summary>
internal static class CutOffFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var data = file.Data;
        return data["disordered"] is not null ? Contrasting(file)
            : data["global_ratings"] is not null || data["borderline_group_totals"] is not null
                ? Borderline(data)
            : data["scores"] is not null && data["box"] is not null ? Hofstee(data)
            : Input.Tables(data).FirstOrDefault().Value is { } table ? Angoff(table)
            : Conditional(file);
    }

    private static CaseResult Contrasting(CaseFile file)
    {
        var cases = Input.List(file.Data["disordered"], "disordered");
        var others = Input.List(file.Data["not_disordered"], "not_disordered");
        var groups = new ContrastingGroups(cases, others);
        var (least, most) = Range(file, [.. cases, .. others]);
        var rows = groups.Table(least, most);
        var (fewest, best) = (rows.Min(r => r.Misclassified), rows.Max(r => r.Youden));
        return new CaseResult(
            new JsonObject
            {
                ["logistic"] = Json.Try(() => Logistic(groups.Logistic())),
                ["normal_intersection"] = Json.Try(() => Json.Numbers(groups.NormalIntersections())),
                ["midpoint_of_means"] = groups.MidpointOfMeans,
                ["sd_weighted_point"] = groups.WeightedPoint,
                ["table"] = Json.List(rows.Select(r => (JsonNode?)Row(r))),
                ["min_misclassification_cuts"] = Json.Numbers(
                    rows.Where(r => r.Misclassified == fewest).Select(r => r.ReferIfBelow)
                ),
                ["max_youden_cuts"] = Json.Numbers(
                    rows.Where(r => r.Youden >= best - 1e-12).Select(r => r.ReferIfBelow)
                ),
                ["means"] = Json.Numbers(new[] { groups.CaseMean, groups.OtherMean }),
                ["sds"] = Json.Numbers(new[] { groups.CaseDeviation, groups.OtherDeviation }),
            }
        );
    }

    /// <summary>The scale's range: from the options, the number of table rows asked for, or the totals themselves.</summary>
    private static (int Least, int Most) Range(CaseFile file, double[] totals)
    {
        var least = (int)(file.Option("min") ?? Math.Min(0, totals.Min()));
        var rows = (file.Requested() as JsonObject)?["table"] is JsonArray a ? a.Count : 0;
        var most = file.Option("max") ?? (rows > 0 ? least + rows - 2 : totals.Max());
        return (least, (int)Math.Max(most, totals.Max()));
    }

    private static JsonObject Logistic(LogisticCut l) =>
        Json.Object(
            ("b0", l.Intercept),
            ("b1", l.Slope),
            ("cut", l.Cut),
            ("se", l.Error),
            ("pi", l.Share),
            ("cut_equal_prior", l.CutEqualPrior)
        );

    private static JsonNode Row(ReferralRow r) =>
        Json.Object(
            ("refer_if_below", r.ReferIfBelow),
            ("missed_disordered", r.Missed),
            ("false_referrals", r.FalseReferrals),
            ("misclassified", r.Misclassified),
            ("sens", r.Sensitivity),
            ("spec", r.Specificity),
            ("youden", r.Youden)
        );

    private static CaseResult Borderline(JsonNode data)
    {
        var figures = new JsonObject();
        if (data["borderline_group_totals"] is { } group)
        {
            var totals = Input.List(group, "borderline_group_totals");
            figures = Json.Object(
                ("median", Descriptive.Median(totals)),
                ("mean", Descriptive.Mean(totals)),
                ("sd", Descriptive.StandardDeviation(totals))
            );
        }

        if (data["global_ratings"] is { } ratings)
        {
            figures["regression"] = Json.Try(() =>
            {
                var r = BorderlineGroup.Regression(
                    Input.List(ratings, "global_ratings"),
                    Input.List(data["totals"], "totals"),
                    Input.Number(data["borderline_rating"], "borderline_rating")
                );
                return Json.Object(
                    ("b0", r.Intercept),
                    ("b1", r.Slope),
                    ("r2", r.RSquare),
                    ("rmse", r.Rmse),
                    ("cut", r.Cut)
                );
            });
        }

        return new CaseResult(figures);
    }

    private static CaseResult Angoff(JsonNode table)
    {
        var a = Calibration.CutOffs.Angoff.Of(Input.Matrix(table, "judges").CompleteRows());
        var figures = new JsonObject
        {
            ["judge_sums"] = Json.Numbers(a.JudgeSums),
            ["cut_mean"] = a.Mean,
            ["cut_median"] = a.Median,
            ["cut_trimmed_drop_min_max"] = Json.Number(a.Trimmed),
            ["sd_of_judges"] = a.DeviationOfJudges,
            ["se_of_cut"] = a.Error,
            ["item_means"] = Json.Numbers(a.ItemMeans),
            ["variance_components"] = Json.Object(
                ("judge", a.JudgeVariance),
                ("item", a.ItemVariance),
                ("residual", a.ResidualVariance)
            ),
            ["se_of_cut_judges_and_items"] = a.ErrorJudgesAndItems,
            ["cut_polytomous_note"] =
                "for items scored 0..m the judges give expected scores; sums work the same",
        };
        return new CaseResult(figures);
    }

    private static CaseResult Hofstee(JsonNode data)
    {
        var totals = Input.List(data["scores"], "scores");
        var figures = new JsonObject();
        foreach (
            var (name, box) in ((JsonObject)data).Where(p => p.Value is JsonObject o && o.ContainsKey("kmin"))
        )
        {
            var key = name == "box" ? "crossing" : name.Replace("_box", "", StringComparison.Ordinal);
            figures[key] = Json.Try(() => Box(totals, box!));
        }

        return new CaseResult(figures);
    }

    private static JsonObject Box(double[] totals, JsonNode box)
    {
        int Whole(string name) => (int)Input.Number(box[name], name);
        var h = Calibration.CutOffs.Hofstee.Of(
            totals,
            Whole("kmin"),
            Whole("kmax"),
            Input.Number(box["fmin"], "fmin"),
            Input.Number(box["fmax"], "fmax")
        );
        return h.Cut is null
            ? new JsonObject { ["cut"] = null, ["reason"] = h.Reason }
            : Json.Object(("cut", h.Cut), ("fail_percent", h.FailPercent))
                .With(("fail_curve", Json.Rows(h.Curve.Select(c => new[] { c.Cut, c.Percent }))));
    }

    /// <summary>Lord's conditional error for the scores asked for, or for all of the test.</summary>
    private static CaseResult Conditional(CaseFile file)
    {
        var asked = (file.Requested("score", "n") as JsonObject)?["rows"] as JsonArray;
        var items = (int)(
            file.Option("n_items")
            ?? Input.NumberOrNull(file.Data["n_items"])
            ?? Input.NumberOrNull(file.Data["n"])
            ?? 24
        );
        var scores = file.Data["scores"] is { } s
            ? Input.List(s, "scores")
            : [.. Enumerable.Range(0, items + 1).Select(i => (double)i)];
        var rows = asked is { Count: > 0 }
            ? asked.Select(r =>
                (Score: Input.Number(r?["score"], "score"), Items: (int)Input.Number(r?["n"], "n"))
            )
            : scores.Select(x => (Score: x, Items: items));
        var (alpha, kr21) = (Figure("alpha"), Figure("kr21") ?? Figure("KR21"));
        double? keats = alpha is { } a && kr21 is { } k ? MeasurementError.KeatsFactor(a, k) : null;
        return new CaseResult(
            new JsonObject
            {
                ["rows"] = Json.List(
                    rows.Select(r =>
                        (JsonNode?)
                            Json.Object(
                                ("score", r.Score),
                                ("n", r.Items),
                                ("lord_binomial_SEM", MeasurementError.Conditional(r.Score, r.Items)),
                                ("keats_factor_kr", keats)
                            )
                    )
                ),
                ["keats"] = "multiply by sqrt((1-alpha)/(1-KR21)) to match the overall SEM",
            }
        );

        double? Figure(string name) => file.Option(name) ?? Input.NumberOrNull(file.Data[name]);
    }
}
