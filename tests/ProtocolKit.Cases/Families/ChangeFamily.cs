using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Change;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Cases.Families;

/// <summary>Errors of measurement, smallest detectable change, reliable change.</summary>
internal static class ChangeFamily
{
    public static CaseResult ReliableChange(CaseFile file) =>
        file.Data["pre"] is JsonArray ? ByRegression(file) : JacobsonTruax(file);

    private static CaseResult JacobsonTruax(CaseFile file)
    {
        var d = file.Data;
        var (pre, post) = (Input.Number(d, "pre", "pre"), Input.Number(d, "post", "post"));
        var (s1, r) = (
            Input.Number(d, "s1 (or sd)", "s1", "sd"),
            Input.Number(d, "rxx (or r)", "rxx", "r", "reliability")
        );
        var better = file.Options["higher_is_better"] is not { } h || Input.NumberOrNull(h) != 0;
        var rci = Calibration.Change.ReliableChange.JacobsonTruax(pre, post, s1, r, file.Confidence);
        var figures = Json.Object(
            ("SEM", rci.Error),
            ("Sdiff", rci.DifferenceError),
            ("RC", rci.Index),
            ("RC_threshold_raw_points_95", Distributions.NormalQuantile(0.975) * rci.DifferenceError),
            ("RC_with_1.96", 1.96 * rci.DifferenceError)
        );
        if (
            Input.NumberOrNull(d["dysfunctional_mean"]) is { } low
            && Input.NumberOrNull(d["functional_mean"]) is { } high
        )
        {
            var s0 = Input.NumberOrNull(d["s0"]) ?? s1;
            figures["a"] = Calibration.Change.ReliableChange.CutA(low, s1, better);
            figures["b"] = Calibration.Change.ReliableChange.CutB(high, s0, better);
            figures["c"] = Json.Try(() =>
                Json.Number(Calibration.Change.ReliableChange.CutC(low, s1, high, s0))
            );
        }

        figures["RC_without_sqrt2 (1984 formula, superseded)"] = (post - pre) / rci.Error;
        return new CaseResult(figures, label => figures[label]);
    }

    private static CaseResult ByRegression(CaseFile file)
    {
        var d = file.Data;
        var (pre, post) = (Input.List(d["pre"], "pre"), Input.List(d["post"], "post"));
        var (newPre, newPost) = (
            Input.Number(d["new_pre"], "new_pre"),
            Input.Number(d["new_post"], "new_post")
        );
        var line = LinearRegression.Of(pre, post);
        var r =
            Descriptive.Correlation(pre, post)
            ?? throw new NotEstimableException("One of the measurements doesn't vary.");
        var (s1, s2) = (Descriptive.StandardDeviation(pre), Descriptive.StandardDeviation(post));
        var practice = Descriptive.Mean(post) - Descriptive.Mean(pre);
        var (change, expected, error) = (newPost - newPre, line.At(newPre), line.NewError(newPre));
        var t = (newPost - expected) / error;
        var interval = line.Prediction(newPre, file.Confidence);
        return new CaseResult(
            Json.Object(
                ("b0", line.Intercept),
                ("b1", line.Slope),
                ("SEE", line.Residual),
                ("predicted", expected),
                ("lwr", interval.Low),
                ("upr", interval.High),
                ("se_individual", error),
                ("z_SEE", (newPost - expected) / line.Residual),
                ("t_individual", t),
                ("p_two", Distributions.StudentTwoSided(t, pre.Length - 2)),
                ("r", r),
                ("mean_pre", Descriptive.Mean(pre)),
                ("mean_post", Descriptive.Mean(post)),
                ("sd_pre", s1),
                ("sd_post", s2),
                ("JT", Calibration.Change.ReliableChange.JacobsonTruax(newPre, newPost, s1, r).Index),
                (
                    "practice_adjusted_Chelune",
                    Calibration.Change.ReliableChange.Chelune(change, practice, s1, r)
                ),
                (
                    "practice_adjusted_Iverson",
                    Calibration.Change.ReliableChange.Iverson(change, practice, s1, s2, r)
                ),
                (
                    "sd_of_difference_scores",
                    Descriptive.StandardDeviation([.. post.Zip(pre, (b, a) => b - a)])
                )
            )
        );
    }

    public static CaseResult Error(CaseFile file)
    {
        var lists = Input.Lists(file.Data).ToList();
        return lists.Count >= 2 && lists.All(l => l.Key.StartsWith("trial", StringComparison.Ordinal))
                ? Trials(file, lists)
            : Input.Tables(file.Data).FirstOrDefault().Value is { } table
                ? FromAnova(file, Input.Matrix(table, "trials").CompleteRows())
            : Intervals(file, lists);
    }

    private static CaseResult Trials(CaseFile file, List<KeyValuePair<string, JsonNode?>> lists) =>
        FromAnova(
            file,
            RatingMatrix.FromColumns([.. lists.Select(l => Input.Gappy(l.Value, l.Key))]).CompleteRows()
        );

    private static CaseResult FromAnova(CaseFile file, RatingMatrix trials)
    {
        var icc = IntraclassCorrelation.Of(trials, file.Confidence);
        var a = icc.Anova;
        var sd = Math.Sqrt((a.SumBetween + a.SumWithin) / ((a.Targets * (double)a.Judges) - 1));
        var r = icc["ICC(3,1)"].Icc;
        var figures = Json.Object(
            ("MS_subjects", a.MeanBetween),
            ("MS_trials", a.MeanJudges),
            ("MSE", a.MeanError),
            ("ICC(1,1)", icc["ICC(1,1)"].Icc),
            ("ICC(2,1)", icc["ICC(2,1)"].Icc),
            ("ICC(3,1)", r),
            ("SD_total", sd),
            ("SEM_sqrt_MSE", icc.ConsistencyError),
            ("SEM_agreement", icc.AgreementError),
            (
                "SDC_MD95",
                Distributions.NormalMultiplier(file.Confidence) * Math.Sqrt(2) * icc.ConsistencyError
            ),
            ("SEE_SD_sqrt(ICC(1-ICC))", r is >= 0 and <= 1 ? sd * Math.Sqrt(r * (1 - r)) : null),
            ("SEP_SD_sqrt(1-ICC^2)", sd * Math.Sqrt(Math.Max(0, 1 - (r * r))))
        );
        if (trials.Raters == 2)
        {
            var limits = BlandAltman.Limits(trials.Column(0), trials.Column(1));
            figures["bland_altman_sd_diff"] = limits.StandardDeviation;
            figures["sd_diff_over_sqrt2"] = limits.StandardDeviation / Math.Sqrt(2);
        }

        return new CaseResult(
            figures,
            label =>
                label switch
                {
                    "SEM" => figures["SEM_sqrt_MSE"],
                    "SEE" => figures["SEE_SD_sqrt(ICC(1-ICC))"],
                    "SEP" => figures["SEP_SD_sqrt(1-ICC^2)"],
                    "MD" or "SDC" => figures["SDC_MD95"],
                    _ => figures[label],
                }
        );
    }

    /// <summary>Named lists of mean, SD, reliability, score.</summary>
    private static CaseResult Intervals(CaseFile file, List<KeyValuePair<string, JsonNode?>> lists)
    {
        var figures = new JsonObject();
        foreach (var (name, node) in lists)
        {
            figures[name] = Json.Try(() => Intervals(Input.List(node, name), file.Confidence));
        }

        if (figures.Count == 0)
        {
            throw new NotEstimableException("Lists of mean, SD, reliability and score are needed.");
        }

        return new CaseResult(
            figures,
            label =>
            {
                var words = label.Split(' ');
                var key = words[^1] == "true" ? "estimated_true_score" : words[^1];
                return words.Length == 2 ? figures[words[0]]?[key] : null;
            }
        );
    }

    private static JsonObject Intervals(double[] row, double confidence)
    {
        if (row.Length != 4)
        {
            throw new NotEstimableException("Four numbers are needed: mean, SD, reliability, score.");
        }

        var e = new MeasurementError(row[0], row[1], row[2]);
        var (x, t, z) = (row[3], e.TrueScore(row[3]), Distributions.NormalMultiplier(confidence));
        var figures = Json.Object(
            ("SEM", e.OfMeasurement),
            ("SEE", e.OfEstimation),
            ("SEP", e.OfPrediction),
            ("estimated_true_score", t)
        );
        figures["ci_obtained_score"] = Json.Pair(Interval.Around(x, z * e.OfMeasurement));
        figures["ci_true_score_regressed"] = Json.Pair(Interval.Around(t, z * e.OfEstimation));
        figures["ci_true_score_regressed_with_SEM"] = Json.Pair(Interval.Around(t, z * e.OfMeasurement));
        figures["prediction_interval_retest"] = Json.Pair(Interval.Around(t, z * e.OfPrediction));
        figures["Sdiff"] = e.OfDifference;
        figures["SDC90"] = e.SmallestDetectableChange(0.9);
        figures["SDC95"] = e.SmallestDetectableChange(0.95);
        return figures;
    }
}
