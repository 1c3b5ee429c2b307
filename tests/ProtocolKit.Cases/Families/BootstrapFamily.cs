using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Numerics;
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

    /// <summary>x, or x and y, or a table of rows.</summary>
    private static double[][] Rows(JsonNode data)
    {
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
            .Select(draw => statistic([.. draw.Select(i => rows[At(i, rows.Length)])]))
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

    private static int At(double oneBased, int size) =>
        oneBased >= 1 && oneBased <= size
            ? (int)oneBased - 1
            : throw new NotEstimableException("A stored resample names a value that is not there.");

    /// <summary>The statistic by its name or by the expression a case writes it as.</summary>
    private static Func<double[][], double> Statistic(CaseFile file)
    {
        var name = ((string?)file.Data["statistic"] ?? (string?)file.Options["statistic"] ?? "mean")
            .ToLowerInvariant()
            .Replace(" ", "", StringComparison.Ordinal);
        double[] First(double[][] rows) => [.. rows.Select(r => r[0])];
        double[] Second(double[][] rows) =>
            [
                .. rows.Select(r =>
                    r.Length > 1
                        ? r[1]
                        : throw new NotEstimableException("This statistic needs two values a row.")
                ),
            ];
        return name switch
        {
            "mean" => rows => Descriptive.Mean(First(rows)),
            "median" => rows => Descriptive.Median(First(rows)),
            "sd" => rows => Descriptive.StandardDeviation(First(rows)),
            "var" or "variance" => rows => Descriptive.Variance(First(rows)),
            "correlation" or "cor" or "pearson" => rows =>
                Descriptive.Correlation(First(rows), Second(rows))
                ?? throw new NotEstimableException(
                    "A resample doesn't vary, so its correlation is undefined."
                ),
            "ratio" or "ratioofmeans" => rows =>
                Descriptive.Mean(First(rows)) / Descriptive.Mean(Second(rows)),
            _ when name.Contains("^2", StringComparison.Ordinal)
                    && name.Contains("mean(", StringComparison.Ordinal) => rows =>
                Descriptive.PopulationVariance(First(rows)),
            _ when name.Contains("cor(", StringComparison.Ordinal) => rows =>
                Descriptive.Correlation(First(rows), Second(rows))
                ?? throw new NotEstimableException(
                    "A resample doesn't vary, so its correlation is undefined."
                ),
            _ when name.Contains("median(", StringComparison.Ordinal) => rows =>
                Descriptive.Median(First(rows)),
            _ when name.Contains("var(", StringComparison.Ordinal) => rows =>
                Descriptive.Variance(First(rows)),
            _ when name.Contains("sd(", StringComparison.Ordinal) => rows =>
                Descriptive.StandardDeviation(First(rows)),
            _ => throw new NotEstimableException(
                $"A statistic \"{name}\" is not known here; known are mean, median, sd, variance, correlation and ratio."
            ),
        };
    }
}
