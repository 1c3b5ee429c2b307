using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Calibration.Reliability;
using ProtocolKit.Calibration.Resampling;

namespace ProtocolKit.Cases.Families;

/// <summary>Bootstraps: all resamples of a tiny sample, resamples stored with the case, or drawn from a seed.</summary>
internal static class BootstrapFamily
{
    private const int Resamples = 2000;
    private const ulong Seed = 20260101;

    public static CaseResult Compute(CaseFile file)
    {
        var rows = Rows(file.Data);
        return file.Data["resample_indices_1_based"] is { } stored
                ? Stored(file, rows, Input.Table(stored, "resamples"))
            : file.Method.Contains("enumeration", StringComparison.OrdinalIgnoreCase)
            || file.Method.Contains("exact bootstrap", StringComparison.OrdinalIgnoreCase)
                ? Enumerated([.. rows.Select(r => r[0])])
            : Drawn(file, rows);
    }

    /// <summary>x, or x and y, or lists of any name, or a table of rows.</summary>
    private static double[][] Rows(JsonNode data)
    {
        var lists = Input.Lists(data).ToList();
        if (data["x"] is null && lists.Count > 0)
        {
            var columns = lists.Select(l => Input.List(l.Value, l.Key)).ToArray();
            return columns.All(c => c.Length == columns[0].Length)
                ? [.. Enumerable.Range(0, columns[0].Length).Select(i => columns.Select(c => c[i]).ToArray())]
                : throw new NotEstimableException("Lists of one sample must be as long as each other.");
        }

        if (data["x"] is JsonArray x && Input.IsList(x))
        {
            var first = Input.List(x, "x");
            var second = data["y"] is { } y ? Input.List(y, "y") : null;
            return [.. first.Select((v, i) => second is null ? new[] { v } : [v, second[i]])];
        }

        return Input.Table(Input.First(data, "x", "values", "pairs", "rows"), "values");
    }

    private static CaseResult Stored(CaseFile file, double[][] rows, double[][] indices)
    {
        var statistic = Statistic(file);
        var resampled = indices
            .Select(draw => statistic([.. draw.Select(i => rows[Position(i, rows.Length)])]))
            .ToArray();
        var r = BootstrapIntervals.Of(statistic(rows), resampled, LeftOut(rows, statistic), file.Confidence);
        var figures = Json.Object(
            ("t0", r.Estimate),
            ("boot_mean", r.Mean),
            ("boot_sd_n_minus_1", r.StandardError),
            ("bias", r.Bias),
            ("z0_strictly_less", r.BiasCorrection),
            ("acceleration_jackknife", r.Acceleration)
        );
        figures["percentile_norm_inter"] = Json.Pair(r.Percentile);
        figures["bca_norm_inter"] = Json.Pair(r.Bca);
        figures["bca_adjusted_levels"] = Json.Pair(r.AdjustedLevels);
        figures["percentile_type7"] = Json.Pair(r.PercentileType7);
        figures["percentile_type6"] = Json.Pair(r.PercentileType6);
        figures["basic_norm_inter"] = Json.Pair(r.Basic);
        figures["normal_bias_corrected"] = Json.Pair(r.Normal);
        figures["jackknife_se"] = r.JackknifeError;
        return new CaseResult(figures);
    }

    private static CaseResult Drawn(CaseFile file, double[][] rows)
    {
        var statistic = Statistic(file);
        var count = (int)(file.Option("resamples") ?? Resamples);
        var resampled = Bootstrap.Resample(
            rows.Length,
            count,
            (ulong)(file.Option("seed") ?? Seed),
            draw => statistic([.. draw.Select(i => rows[i])])
        );
        var r = BootstrapIntervals.Of(statistic(rows), resampled, LeftOut(rows, statistic), file.Confidence);
        var figures = Json.Object(
            ("theta_hat", r.Estimate),
            ("acceleration", r.Acceleration),
            ("z0", r.BiasCorrection)
        );
        figures["percentile"] = Json.Pair(r.Percentile);
        figures["BCa"] = Json.Pair(r.Bca);
        figures["resamples"] = count;
        figures["generator"] = SeededGenerator.Name;
        return new CaseResult(
            figures,
            label =>
                label switch
                {
                    "percentile low" => Json.Number(r.Percentile.Low),
                    "percentile high" => Json.Number(r.Percentile.High),
                    "BCa low" => Json.Number(r.Bca?.Low),
                    "BCa high" => Json.Number(r.Bca?.High),
                    _ => figures[label],
                }
        );
    }

    /// <summary>All n^n resamples of up to seven values, for the mean and the median.</summary>
    private static CaseResult Enumerated(double[] x)
    {
        if (x.Length is < 2 or > 7)
        {
            throw new NotEstimableException("All resamples are listed for two to seven values only.");
        }

        var total = (int)Math.Round(Math.Pow(x.Length, x.Length));
        var draws = Enumerable.Range(0, total).Select(code => Digits(code, x)).ToArray();
        var figures = new JsonObject
        {
            ["mean"] = Distribution(draws, Descriptive.Mean),
            ["median"] = Distribution(draws, Descriptive.Median),
        };
        return new CaseResult(
            figures,
            label =>
                label.StartsWith("sd of ", StringComparison.Ordinal) ? figures[label[6..]]?["sd_population"]
                : label.StartsWith("mean of ", StringComparison.Ordinal) ? figures[label[8..]]?["mean"]
                : null
        );
    }

    private static double[] Digits(int code, double[] x)
    {
        var draw = new double[x.Length];
        for (var i = 0; i < draw.Length; i++)
        {
            (code, draw[i]) = (code / x.Length, x[code % x.Length]);
        }

        return draw;
    }

    private static JsonObject Distribution(double[][] draws, Func<IReadOnlyList<double>, double> statistic)
    {
        var values = draws.Select(d => statistic([.. d.Order()])).ToArray();
        return new JsonObject
        {
            ["mean"] = Descriptive.Mean(values),
            ["sd_population"] = Math.Sqrt(Descriptive.PopulationVariance(values)),
            ["distribution_value_count_prob"] = Json.List(
                values
                    .GroupBy(v => Math.Round(v, 10))
                    .OrderBy(g => g.Key)
                    .Select(g =>
                        (JsonNode?)
                            new JsonArray(Fractions.Text(g.Key), g.Count(), g.Count() / (double)values.Length)
                    )
            ),
        };
    }

    private static double[] LeftOut(double[][] rows, Func<double[][], double> statistic) =>
        [.. Enumerable.Range(0, rows.Length).Select(i => statistic([.. rows.Where((_, j) => j != i)]))];

    private static int Position(double oneBased, int size) =>
        oneBased >= 1 && oneBased <= size
            ? (int)oneBased - 1
            : throw new NotEstimableException("A stored resample names a value that is not there.");

    /// <summary>The statistic by its name or by the expression a case writes it as.</summary>
    private static Func<double[][], double> Statistic(CaseFile file)
    {
        var text = (string?)file.Data["statistic"] ?? (string?)file.Options["statistic"] ?? "mean";
        return text.ToLowerInvariant().Replace(" ", "", StringComparison.Ordinal) switch
        {
            "correlation" or "cor" or "pearson" or "pearsoncorrelation" => Correlation,
            var t when t.Contains("cor(", StringComparison.Ordinal) => Correlation,
            "ratio" or "ratioofmeans" => r => Descriptive.Mean(Column(r, 0)) / Descriptive.Mean(Column(r, 1)),
            "meandifference" or "differenceofmeans" => r =>
                Descriptive.Mean(Column(r, 0)) - Descriptive.Mean(Column(r, 1)),
            "auc" or "area" or "rocauc" => Area,
            "icc" or "icc(2,1)" or "icc(a,1)" => r => Icc(r, "ICC(2,1)"),
            "icc(3,1)" or "icc(c,1)" => r => Icc(r, "ICC(3,1)"),
            "kappa" or "cohenskappa" or "cohen'skappa" => Kappa,
            "alpha" or "cronbachsalpha" or "cronbach'salpha" => r =>
                CronbachAlpha.Of(RatingMatrix.FromRows(r)).Alpha,
            "variance" => r => Descriptive.Variance(Column(r, 0)),
            "trimmedmean" => throw new NotEstimableException("A trimmed mean is not computed here."),
            "mean" or "median" or "sd" or "var" => r => Value(text.Trim() + "(x)", r),
            _ => r => Value(text, r),
        };
    }

    private static double Value(string formula, double[][] rows)
    {
        var first = Column(rows, 0);
        var names = new Dictionary<string, double[]>(StringComparer.Ordinal) { ["s"] = first, ["x"] = first };
        if (rows[0].Length > 1)
        {
            names["y"] = Column(rows, 1);
        }

        return Formula.Value(formula, names);
    }

    private static double Correlation(double[][] rows) =>
        Descriptive.Correlation(Column(rows, 0), Column(rows, 1))
        ?? throw new NotEstimableException("A resample doesn't vary, so its correlation is undefined.");

    private static double Icc(double[][] rows, string form) =>
        IntraclassCorrelation.Of(RatingMatrix.FromRows(rows))[form].Icc;

    private static double Kappa(double[][] rows) =>
        CohenKappa
            .Of(
                AgreementTable.FromPairs(
                    [.. Column(rows, 0).Select(v => (double?)v)],
                    [.. Column(rows, 1).Select(v => (double?)v)]
                )
            )
            .Kappa;

    /// <summary>Rows of score and outcome (1 for a case).</summary>
    private static double Area(double[][] rows) =>
        RocCurve
            .Of(
                [.. rows.Where(r => At(r, 1) == 1).Select(r => r[0])],
                [.. rows.Where(r => At(r, 1) != 1).Select(r => r[0])]
            )
            .Area;

    private static double[] Column(double[][] rows, int column) => [.. rows.Select(r => At(r, column))];

    private static double At(double[] row, int column) =>
        column < row.Length
            ? row[column]
            : throw new NotEstimableException("This statistic needs two values a row.");
}
