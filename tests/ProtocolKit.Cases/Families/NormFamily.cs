using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Norms;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Cases.Families;

/// <summary>Quantiles, percentile ranks, standard scores, a child against a small sample, norms by age, LMS.</summary>
internal static partial class NormFamily
{
    public static CaseResult Quantiles(CaseFile file)
    {
        var x = Input.List(Input.Lists(file.Data).First().Value, "x");
        var asked = (file.Requested("p") as JsonObject)?["p"] ?? file.Data["p"];
        double[] p = asked is { } node
            ? Input.List(node, "p")
            : [0, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 1];
        var types = new JsonObject();
        for (var type = 1; type <= 9; type++)
        {
            var t = type;
            types[t.ToString(CultureInfo.InvariantCulture)] = Json.Numbers(
                p.Select(q => SampleQuantiles.Of(x, q, t))
            );
        }

        return new CaseResult(
            new JsonObject
            {
                ["p"] = Json.Numbers(p),
                ["types_1_to_9"] = types,
                ["numpy_differs_at [type,p,R,numpy]"] = new JsonArray(),
            }
        );
    }

    public static CaseResult Ranks(CaseFile file)
    {
        var x = Input.List(Input.First(file.Data, "x", "scores", "values"), "x");
        var all = new JsonObject();
        var (low, high) = ((int)Math.Floor(x.Min()), (int)Math.Ceiling(x.Max()));
        var asked = (file.Requested() as JsonObject)?["all"] as JsonObject;
        var scores =
            asked?.Select(a => double.Parse(a.Key, CultureInfo.InvariantCulture))
            ?? Enumerable.Range(low, high - low + 2).Select(v => (double)v);
        foreach (var s in scores)
        {
            all[Text(s)] = Rank(PercentileRank.Of(x, s));
        }

        var figures = new JsonObject();
        var score = Input.NumberOrNull(file.Data["score"]);
        if (score is { } at)
        {
            figures["at_" + Text(at)] = Rank(PercentileRank.Of(x, at));
        }

        figures["all"] = all;
        return new CaseResult(figures, label => score is { } s ? Rank(PercentileRank.Of(x, s))[label] : null);
    }

    private static JsonObject Rank(PercentileRank r) =>
        Json.Object(("rank", r.Rank), ("weak", r.Weak), ("strict", r.Strict), ("mean", r.Middle));

    public static CaseResult Norms(CaseFile file) =>
        file.Data["z"] is JsonArray ? Standard(file)
        : file.Data["age_months"] is not null || Input.First(file.Data, "age", "ages") is not null
            ? ByAge(file)
        : SmallSamples(file);

    /// <summary>Named lists of score, mean, SD, n.</summary>
    private static CaseResult SmallSamples(CaseFile file)
    {
        var figures = new JsonObject();
        foreach (var (name, node) in Input.Lists(file.Data))
        {
            figures[name] = Json.Try(() =>
            {
                var row = Input.List(node, name);
                var r = SingleCase.Of(row[0], row[1], row[2], (int)row[3]);
                return Json.Object(
                    ("t", r.T),
                    ("df", r.Df),
                    ("p_one_tailed", r.POneTailed),
                    ("percent_below", r.PercentBelow),
                    ("z_naive", r.Z),
                    ("percent_below_naive", r.NaivePercentBelow)
                );
            });
        }

        return new CaseResult(
            figures,
            label => label.Split('.') is [var set, var name] ? figures[set]?[name] : null
        );
    }

    private static CaseResult Standard(CaseFile file)
    {
        var z = Input.List(file.Data["z"], "z");
        var asked = (file.Requested("percentile") as JsonObject)?["percentile_table"] as JsonArray;
        double[] percentiles = asked is { Count: > 0 }
            ? [.. asked.Select(r => Input.Number(r?["percentile"], "percentile"))]
            : [1, 2, 5, 7, 9, 10, 16, 25, 50, 75, 84, 90, 91, 93, 95, 98, 99];
        var figures = new JsonObject
        {
            ["z_table"] = Json.List(z.Select(v => (JsonNode?)ZRow(v))),
            ["percentile_table"] = Json.List(percentiles.Select(p => (JsonNode?)PercentileRow(p))),
            ["stanines"] = Json.List(Enumerable.Range(1, 9).Select(s => (JsonNode?)Stanine(s))),
        };
        return new CaseResult(figures, StandardNamed);
    }

    private static JsonObject ZRow(double z) =>
        Json.Object(
            ("z", z),
            ("percentile", StandardScores.Percentile(z)),
            ("T", StandardScores.T(z)),
            ("dev15", StandardScores.Deviation(z)),
            ("scaled10_3", StandardScores.Scaled(z)),
            ("sten_continuous", StandardScores.Sten(z)),
            ("stanine", StandardScores.Stanine(z))
        );

    private static JsonObject PercentileRow(double percentile)
    {
        var z = StandardScores.FromPercentile(percentile);
        return Json.Object(
            ("percentile", percentile),
            ("z", z),
            ("T", StandardScores.T(z)),
            ("dev15", StandardScores.Deviation(z))
        );
    }

    private static JsonObject Stanine(int s)
    {
        double Below(int upTo) =>
            upTo == 0 ? 0
            : upTo == 9 ? 1
            : Distributions.NormalCdf((upTo - 4.5) / 2);
        return Json.Object(
            ("stanine", s),
            ("percent_of_normal", 100 * (Below(s) - Below(s - 1))),
            ("nominal_percent", StandardScores.StaninePercent[s - 1]),
            ("upper_z", s == 9 ? null : (s - 4.5) / 2)
        );
    }

    /// <summary>"z -1.5 percentile", "P5 z", "P16 T", "stanine 1 percent".</summary>
    private static JsonNode? StandardNamed(string label)
    {
        var words = label.Split(' ');
        return words switch
        {
            ["z", var v, var name] => ZRow(Number(v))[name],
            ["stanine", var s, _] => Stanine((int)Number(s))["percent_of_normal"],
            [['P', .. var p], var name] => PercentileRow(Number(p))[name],
            _ => null,
        };
    }

    private static CaseResult ByAge(CaseFile file)
    {
        var ages = Input.List(Input.First(file.Data, "age_months", "age", "ages"), "ages");
        var totals = Input.List(Input.First(file.Data, "total", "totals", "scores"), "totals");
        var (linear, quadratic) = (PolynomialNorms.Of(ages, totals, 1), PolynomialNorms.Of(ages, totals, 2));
        var figures = new JsonObject { ["linear"] = Fit(linear), ["quadratic"] = Fit(quadratic) };
        foreach (var key in file.RequestedKeys.Count > 0 ? file.RequestedKeys : ["pred_at_42_60_84"])
        {
            if (key.StartsWith("pred_at_", StringComparison.Ordinal))
            {
                figures[key] = Json.Rows(
                    key[8..]
                        .Split('_')
                        .Select(Number)
                        .Select(a =>
                            new[]
                            {
                                quadratic.At(a),
                                quadratic.Prediction(a, file.Confidence).Low,
                                quadratic.Prediction(a, file.Confidence).High,
                            }
                        )
                );
            }
            else if (ZAt().Match(key) is { Success: true } m)
            {
                figures[key] = quadratic.Z(Number(m.Groups[1].Value), Number(m.Groups[2].Value));
            }
        }

        var (f, p) = quadratic.Against(linear);
        figures["F"] = f;
        figures["p"] = p;
        return new CaseResult(
            figures,
            label => label.Split('.') is [var fit, var name] ? figures[fit]?[name] : figures[label]
        );
    }

    private static JsonObject Fit(PolynomialNorms n) =>
        new()
        {
            ["b"] = Json.Numbers(n.Coefficients()),
            ["sigma"] = n.Sigma,
            ["r2"] = n.RSquare,
            ["AIC"] = n.Aic,
        };

    public static CaseResult Lms(CaseFile file)
    {
        var lms = new Lms(
            Input.Number(file.Data["L"], "L"),
            Input.Number(file.Data["M"], "M"),
            Input.Number(file.Data["S"], "S")
        );
        double[] x = file.Data["x"] is { } node ? Input.List(node, "x") : [];
        var asked = file.Requested() as JsonObject;
        var centiles =
            (asked?["x"] as JsonObject)?.Select(p => p.Key).ToList() ?? ["3", "5", "10", "50", "90", "97"];
        var restricted =
            (asked?["z_WHO_restricted_beyond_3SD"] as JsonObject)?.Select(p => p.Key).ToList()
            ?? [.. x.Select(Text)];
        var figures = new JsonObject
        {
            ["z"] = new JsonObject(
                x.Select(v => KeyValuePair.Create(Text(v), Json.Try(() => Json.Number(lms.Z(v)))))
            ),
            ["z_WHO_restricted_beyond_3SD"] = new JsonObject(
                restricted.Select(v =>
                    KeyValuePair.Create(v, Json.Try(() => Json.Number(lms.ZRestricted(Number(v)))))
                )
            ),
            ["x"] = new JsonObject(
                centiles.Select(p =>
                    KeyValuePair.Create(
                        p,
                        Json.Try(() => Json.Number(lms.At(StandardScores.FromPercentile(Number(p)))))
                    )
                )
            ),
        };
        return new CaseResult(figures, label => LmsNamed(label, lms));
    }

    /// <summary>"z(9.7)", "P(8.2)" (a share), "percentile(9.7)", "WHO-restricted z(14)", "x at P5".</summary>
    private static JsonNode? LmsNamed(string label, Lms lms)
    {
        if (label.StartsWith("x at P", StringComparison.Ordinal))
        {
            return Json.Number(lms.At(StandardScores.FromPercentile(Number(label[6..]))));
        }

        if (Call().Match(label) is not { Success: true } m)
        {
            return null;
        }

        var x = Number(m.Groups[2].Value);
        return m.Groups[1].Value switch
        {
            "z" => Json.Number(lms.Z(x)),
            "P" => Json.Number(Distributions.NormalCdf(lms.Z(x))),
            "percentile" => Json.Number(StandardScores.Percentile(lms.Z(x))),
            "WHO-restricted z" => Json.Number(lms.ZRestricted(x)),
            _ => null,
        };
    }

    private static double Number(string text) =>
        double.TryParse(text, CultureInfo.InvariantCulture, out var v)
            ? v
            : throw new NotEstimableException($"\"{text}\" is no number.");

    private static string Text(double value) => value.ToString(CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^z_of_([\d.]+)_at_([\d.]+)$")]
    private static partial Regex ZAt();

    [GeneratedRegex(@"^(.+)\(([\d.]+)\)$")]
    private static partial Regex Call();
}
