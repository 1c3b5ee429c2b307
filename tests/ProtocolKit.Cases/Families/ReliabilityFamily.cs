using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using MathNet.Numerics.LinearAlgebra;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Reliability;

namespace ProtocolKit.Cases.Families;

/// <summary>Alpha, Kuder–Richardson, Spearman–Brown, split halves, omega and criterion-referenced items.</summary>
internal static partial class ReliabilityFamily
{
    public static CaseResult Alpha(CaseFile file)
    {
        if (file.Data["k"] is not null)
        {
            var alpha = CronbachAlpha.Of(
                (int)Input.Number(file.Data["k"], "k"),
                Input.Number(file.Data["sum_item_variances"], "sum_item_variances"),
                Input.Number(file.Data["total_variance"], "total_variance")
            );
            return new CaseResult(Json.Object(("alpha", alpha)));
        }

        if (Input.First(file.Data, "covariance", "covariances", "correlations", "correlation") is { } table)
        {
            return OfCovariances(
                file,
                Matrix<double>.Build.DenseOfRowArrays(Input.Table(table, "covariances"))
            );
        }

        var scores = RatingTables.Of(file.Data);
        return scores.Missing > 0 ? Gaps(scores) : Complete(file, scores);
    }

    internal static JsonObject AlphaBlock(RatingMatrix scores, double confidence)
    {
        var r = CronbachAlpha.Of(scores, confidence);
        var covariance = ItemCovariance.Of(scores);
        var figures = Json.Object(
            ("n", r.Persons),
            ("k", r.Items),
            ("alpha", r.Alpha),
            ("standardized_alpha", r.Standardized),
            ("mean_inter_item_r", r.MeanCorrelation),
            ("median_inter_item_r", r.MedianCorrelation),
            ("total_mean", r.TotalMean),
            ("total_variance", r.TotalVariance),
            ("sum_item_variances", r.SumOfItemVariances)
        );
        var level = (confidence * 100).ToString("0.##", CultureInfo.InvariantCulture);
        figures["feldt_ci" + level] = Json.Pair(r.Feldt);
        if (level != "95")
        {
            figures["feldt_ci95"] = Json.Pair(CronbachAlpha.Of(scores).Feldt);
            figures["feldt_ci95_psych"] = Json.Pair(CronbachAlpha.Of(scores).Feldt);
        }

        figures["feldt_ci"] = Json.Pair(r.Feldt);
        figures["ase_duhachek_iacobucci"] = r.StandardError;
        figures["SEM_sd_sqrt(1-alpha)"] = r.MeasurementError;
        figures["guttman_covariance"] = Json.Try(() => Lambdas(GuttmanLambdas.Of(covariance)));
        figures["guttman_correlation"] = ItemCovariance.Correlations(covariance) is { } c
            ? Json.Try(() => Lambdas(GuttmanLambdas.Of(c)))
            : null;
        figures["items"] = Json.List(ItemStatistics.Of(scores).Select(i => (JsonNode?)Item(i)));
        figures[$"feldt_ci{level}_psych"] = Json.Pair(r.Feldt);
        return figures;
    }

    /// <summary>Alpha from a table of covariances or correlations between items; with n, its Feldt interval too.</summary>
    private static CaseResult OfCovariances(CaseFile file, Matrix<double> covariances)
    {
        var alpha = CronbachAlpha.Of(covariances);
        var figures = Json.Object(("k", covariances.RowCount), ("alpha", alpha));
        if (ItemCovariance.Correlations(covariances) is { } correlations)
        {
            figures["standardized_alpha"] = CronbachAlpha.Of(correlations);
            figures["guttman_correlation"] = Json.Try(() => Lambdas(GuttmanLambdas.Of(correlations)));
        }

        figures["guttman_covariance"] = Json.Try(() => Lambdas(GuttmanLambdas.Of(covariances)));
        if (Input.NumberOrNull(file.Data["n"]) is { } n)
        {
            figures["n"] = n;
            figures["feldt_ci"] = Json.Try(() =>
                Json.Pair(CronbachAlpha.FeldtInterval(alpha, (int)n, covariances.RowCount, file.Confidence))
            );
        }

        return new CaseResult(
            figures,
            label => label == "std_alpha" ? figures["standardized_alpha"] : figures[label]
        );
    }

    private static CaseResult Complete(CaseFile file, RatingMatrix scores)
    {
        var figures = AlphaBlock(scores, file.Confidence);
        var r = CronbachAlpha.Of(scores, file.Confidence);
        var names = (file.Data["variables"] as JsonArray)?.Select(v => (string?)v).ToList();
        return new CaseResult(figures, label => Named(label, figures, r, names));
    }

    private static JsonNode? Named(string label, JsonObject figures, AlphaResult r, List<string?>? names) =>
        label switch
        {
            "alpha" => Json.Number(r.Alpha),
            "std_alpha" => Json.Number(r.Standardized),
            "G6" => figures["guttman_correlation"]?["lambda6"],
            "average_r" => Json.Number(r.MeanCorrelation),
            "median_r" => Json.Number(r.MedianCorrelation),
            "S/N" => Json.Number(r.Items * r.MeanCorrelation / (1 - r.MeanCorrelation)),
            "ase" => Json.Number(r.StandardError),
            "feldt_low" or "ci_low" => Json.Number(r.Feldt.Low),
            "feldt_high" or "ci_high" => Json.Number(r.Feldt.High),
            _ when label.StartsWith("r.drop ", StringComparison.Ordinal) && names is not null => figures[
                "items"
            ]![names.IndexOf(label[7..])]?["corrected_item_total_r"],
            _ when Lambda().Match(label) is { Success: true } m => LambdaNamed(m, figures),
            _ => null,
        };

    private static JsonNode? LambdaNamed(Match m, JsonObject figures)
    {
        var block =
            figures[m.Groups[2].Value == "cov" ? "guttman_covariance" : "guttman_correlation"] as JsonObject;
        return block
            ?.FirstOrDefault(p => p.Key.StartsWith("lambda" + m.Groups[1].Value, StringComparison.Ordinal))
            .Value;
    }

    private static JsonObject Lambdas(GuttmanResult g) =>
        Json.Object(
            ("lambda1", g.Lambda1),
            ("lambda2", g.Lambda2),
            ("lambda3_alpha", g.Lambda3),
            ("lambda4_best_equal_split", g.BestEqualSplit),
            ("lambda4_best_any_split", g.BestAnySplit),
            ("worst_equal_split", g.WorstEqualSplit),
            ("lambda5", g.Lambda5),
            ("lambda6", g.Lambda6)
        );

    private static JsonObject Item(ItemRow i) =>
        Json.Object(
            ("mean", i.Mean),
            ("sd", i.StandardDeviation),
            ("item_total_r", i.ItemTotal),
            ("corrected_item_total_r", i.ItemRest),
            ("alpha_if_deleted", i.AlphaIfDropped),
            ("scale_mean_if_deleted", i.MeanIfDropped),
            ("scale_variance_if_deleted", i.VarianceIfDropped)
        );

    private static CaseResult Gaps(RatingMatrix scores)
    {
        var complete = scores.CompleteRows();
        var figures = new JsonObject
        {
            ["listwise"] = Json.Try(() => Json.Number(CronbachAlpha.Of(complete).Alpha)),
            ["pairwise_covariances"] = Json.Try(() => Json.Number(CronbachAlpha.Pairwise(scores))),
            ["item_variances_and_row_sums_ignoring_missing"] = Json.Try(() =>
                Json.Number(CronbachAlpha.IgnoringMissing(scores))
            ),
            ["n_complete"] = complete.Subjects,
        };
        return new CaseResult(
            figures,
            label => label == "pingouin default" ? figures["pairwise_covariances"] : figures[label]
        );
    }

    public static CaseResult KuderRichardson(CaseFile file)
    {
        var scores = Patterns(file.Data);
        var k = Calibration.Reliability.KuderRichardson.Of(scores);
        var kr = new JsonObject
        {
            ["item_difficulty_p"] = Json.Numbers(k.Difficulties),
            ["KR20_population_variances"] = k.Kr20,
            ["KR20_equals_alpha_sample_variances"] = k.Alpha,
            ["KR20_mixed_pq_with_sample_total_variance"] = k.Kr20Mixed,
            ["KR21_sample_variance"] = k.Kr21Sample,
            ["KR21_population_variance"] = k.Kr21Population,
            ["total_mean"] = k.TotalMean,
            ["total_sd_sample"] = k.SampleDeviation,
            ["total_sd_population"] = k.PopulationDeviation,
        };
        var figures = (JsonObject)kr.DeepClone();
        figures["alpha_block"] = AlphaBlock(scores, file.Confidence);
        figures["kr"] = kr;
        figures["item_discrimination"] = Json.List(
            Calibration.Reliability.KuderRichardson.Discrimination(scores).Select(d => (JsonNode?)Row(d))
        );
        return new CaseResult(
            figures,
            label =>
                label switch
                {
                    "alpha" or "KR20" => Json.Number(k.Kr20),
                    "KR21" => Json.Number(k.Kr21Sample),
                    _ when label.StartsWith('p')
                            && int.TryParse(label[1..], out var i)
                            && i >= 1
                            && i <= k.Difficulties.Count => Json.Number(k.Difficulties[i - 1]),
                    _ => null,
                }
        );
    }

    private static JsonObject Row(DiscriminationRow d) =>
        Json.Object(
            ("p", d.Difficulty),
            ("point_biserial_total", d.PointBiserial),
            ("point_biserial_corrected", d.PointBiserialRest),
            ("biserial_total_population_sd", d.BiserialPopulation),
            ("biserial_total_sample_sd", d.BiserialSample)
        );

    /// <summary>Rows of answers, or patterns with how often each occurred.</summary>
    private static RatingMatrix Patterns(JsonNode data)
    {
        if (data["frequencies"] is not { } frequencies)
        {
            return Input.Matrix(Input.First(data, "values", "items", "ratings"), "values").CompleteRows();
        }

        var patterns = Input.Table(Input.First(data, "response_patterns", "patterns"), "patterns");
        var counts = Input.List(frequencies, "frequencies");
        return RatingMatrix.FromRows([
            .. patterns.Zip(counts).SelectMany(p => Enumerable.Repeat(p.First, (int)p.Second)),
        ]);
    }

    public static CaseResult Halves(CaseFile file)
    {
        var lists = Input.Lists(file.Data).ToList();
        if (lists.Count < 2)
        {
            return Prophecy(file);
        }

        var r = SplitHalf.Of(
            Input.List(lists[0].Value, lists[0].Key),
            Input.List(lists[1].Value, lists[1].Key)
        );
        return new CaseResult(
            Json.Object(
                ("r_halves", r.Correlation),
                ("spearman_brown", r.SpearmanBrown),
                ("guttman_flanagan", r.Flanagan),
                ("rulon", r.Rulon)
            )
        );
    }

    /// <summary>Reliabilities and lengths come with the rows that are asked for; without any, a table of usual ones.</summary>
    private static CaseResult Prophecy(CaseFile file)
    {
        var asked = file.Requested("r", "length_factor", "target");
        var prophecy =
            Rows(asked?["prophecy"], "r", "length_factor")
            ??
            [
                .. new[] { 0.3, 0.5, 0.6, 0.7, 0.8, 0.9 }.SelectMany(r =>
                    new[] { 0.5, 2, 3, 4 }.Select(n => (r, n))
                ),
            ];
        var needed =
            Rows(asked?["needed_length"], "r", "target")
            ?? [(0.5, 0.8), (0.5, 0.9), (0.6, 0.8), (0.6, 0.9), (0.7, 0.8), (0.7, 0.9)];
        var figures = new JsonObject
        {
            ["prophecy"] = Json.List(
                prophecy.Select(p =>
                    (JsonNode?)
                        Json.Object(
                            ("r", p.First),
                            ("length_factor", p.Second),
                            ("r_new", SpearmanBrown.Prophecy(p.First, p.Second))
                        )
                )
            ),
            ["needed_length"] = Json.List(
                needed.Select(p =>
                    (JsonNode?)
                        Json.Object(
                            ("r", p.First),
                            ("target", p.Second),
                            ("length_factor", SpearmanBrown.LengthFor(p.First, p.Second))
                        )
                )
            ),
        };
        return new CaseResult(
            figures,
            label =>
                Doubled().Match(label) is { Success: true } m
                    ? Json.Number(
                        SpearmanBrown.Prophecy(
                            double.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture),
                            m.Groups[2].Value == "tripled" ? 3 : 2
                        )
                    )
                    : null
        );
    }

    private static List<(double First, double Second)>? Rows(JsonNode? rows, string first, string second) =>
        rows is JsonArray { Count: > 0 } a
            ? [.. a.Select(r => (Input.Number(r?[first], first), Input.Number(r?[second], second)))]
            : null;

    public static CaseResult Omega(CaseFile file)
    {
        var correlations = file.Data["correlations"] is { } node
            ? Matrix<double>.Build.DenseOfRowArrays(Input.Table(node, "correlations"))
            : ItemCovariance.Correlations(ItemCovariance.Of(RatingTables.Of(file.Data).CompleteRows()))
                ?? throw new NotEstimableException("An item doesn't vary: correlations can't be computed.");
        var loadings = FactorAnalysis.OneFactor(correlations);
        var figures = new JsonObject();
        var factors = (int)(file.Option("factors") ?? 3);
        if (factors >= 2)
        {
            var schmid = Calibration.Reliability.Omega.SchmidLeiman(correlations, factors);
            figures = Json.Object(
                ("omega_h", schmid.Hierarchical),
                ("omega_lim", schmid.Limit),
                ("omega_t", schmid.Total),
                ("omega_total", schmid.Total)
            );
        }

        figures["alpha"] = CronbachAlpha.Of(correlations);
        figures["G6"] = Json.Number(GuttmanLambdas.Of(correlations).Lambda6);
        figures["one_factor_ML_loadings"] = Json.Numbers(loadings);
        figures["omega_one_factor_ML"] = Calibration.Reliability.Omega.OneFactor(loadings);
        figures["alpha_check"] = CronbachAlpha.Of(correlations);
        return new CaseResult(figures, label => figures[label]);
    }

    public static CaseResult Items(CaseFile file)
    {
        var items = Input.Table(Input.First(file.Data, "items", "values"), "items");
        var totals = file.Data["total"] is { } t ? Input.List(t, "total") : [.. items.Select(i => i.Sum())];
        var cut = file.Option("cut") ?? throw new NotEstimableException("A cut is needed under options.");
        var rows = CriterionReferencedItems.Of(items, totals, cut);
        var figures = new JsonObject
        {
            ["n_masters"] = totals.Count(x => x >= cut),
            ["items"] = Json.List(
                rows.Select(
                    (r, i) =>
                        (JsonNode?)
                            Json.Object(
                                ("item", i + 1),
                                ("IF", r.Facility),
                                ("IF_pass", r.FacilityPass),
                                ("IF_fail", r.FacilityFail),
                                ("B_index", r.BIndex),
                                ("A_agreement", r.Agreement),
                                ("item_phi", r.Phi)
                            )
                )
            ),
        };
        return new CaseResult(figures);
    }

    [GeneratedRegex(@"^lambda(\d)(?: \((corr|cov)\))?$")]
    private static partial Regex Lambda();

    [GeneratedRegex(@"^r=(0?\.\d+) (doubled|tripled)$")]
    private static partial Regex Doubled();
}
