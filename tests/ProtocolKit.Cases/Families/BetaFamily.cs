using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.CutOffs;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Calibration.Reliability;

namespace ProtocolKit.Cases.Families;

/// <summary>Classification with beta-binomial totals: Huynh, Hanson–Brennan, Livingston–Lewis.</summary>
internal static partial class BetaFamily
{
    /// <summary>Mean, SD and number of items of a test with right-or-wrong items.</summary>
    public static CaseResult Huynh(CaseFile file)
    {
        var (items, cut) = (
            (int)Input.Number(file.Data["n_items"], "n_items"),
            (int)Input.Number(file.Data["cut"], "cut")
        );
        var (mean, sd) = (Input.Number(file.Data["mean"], "mean"), Input.Number(file.Data["sd"], "sd"));
        var kr21 = KuderRichardson.Kr21(items, mean, sd * sd);
        if (kr21 is <= 0 or >= 1)
        {
            throw new NotEstimableException(
                "KR-21 is not between 0 and 1, so no beta-binomial distribution fits these totals."
            );
        }

        var alpha = ((1 / kr21) - 1) * mean;
        var shape = new BetaShape(alpha, (items / kr21) - items - alpha, 0, 1);
        var totals = BetaBinomialClassification.Totals(shape, items);
        var table = BetaBinomialClassification.Of(shape, items, [cut / (double)items], [cut]);
        var figures = Json.Object(("KR21", kr21), ("alpha", shape.Alpha), ("beta", shape.Beta));
        figures["score_distribution"] = Json.Numbers(totals);
        figures["P(master)"] = totals.Skip(cut).Sum();
        figures["p_agreement"] = table.Consistency.Agreement;
        figures["kappa"] = Json.Number(table.Consistency.Kappa);
        figures["accuracy_true_cut_c/n"] = table.Accuracy;
        return new CaseResult(figures);
    }

    /// <summary>Livingston–Lewis from a list of totals, with one cut.</summary>
    public static CaseResult Scores(CaseFile file)
    {
        var totals = Input.List(file.Data["scores"], "scores");
        double Needed(string name) =>
            file.Option(name) ?? throw new NotEstimableException($"\"{name}\" is needed under options.");
        var (least, most, cut, reliability) = (
            Needed("min"),
            Needed("max"),
            Needed("cut"),
            Needed("reliability")
        );
        var etl = BetaBinomialClassification.EffectiveLength(
            Descriptive.Mean(totals),
            Descriptive.Variance(totals),
            reliability,
            least,
            most
        );
        var items = (int)Math.Round(etl);
        var scaled = totals.Select(x => etl * (x - least) / (most - least)).ToArray();
        var moments = BetaFit.True(scaled, [.. totals.Select(_ => 1.0)], etl);
        var four = BetaFit.FourParameters(moments);
        var two =
            file.Method.Contains("two-parameter", StringComparison.OrdinalIgnoreCase)
            || four is not { IsPermissible: true };
        var shape = two ? BetaFit.TwoParameters(moments) : four!;
        var share = (cut - least) / (most - least);
        var k = (int)Math.Round(items * share);
        var table = BetaBinomialClassification.Of(shape, items, [share], [k]);
        var (tp, fp, tf, ff) = (
            table.TrueByObserved[1][1],
            table.TrueByObserved[0][1],
            table.TrueByObserved[0][0],
            table.TrueByObserved[1][0]
        );
        var c = table.Consistency;
        var figures = Json.Object(("etl", etl), ("N", items));
        figures["two_parameter"] = two;
        foreach (
            var (key, value) in Json.Object(
                ("alpha", shape.Alpha),
                ("beta", shape.Beta),
                ("l", shape.Lower),
                ("u", shape.Upper),
                ("k", k),
                ("p_tp", tp),
                ("p_fp", fp),
                ("p_tf", tf),
                ("p_ff", ff),
                ("sensitivity", tp / (tp + ff)),
                ("specificity", tf / (tf + fp)),
                ("accuracy", table.Accuracy),
                ("consistency", c.Agreement),
                ("chance_consistency", c.Chance),
                ("kappa", c.Kappa)
            )
        )
        {
            figures[key] = value?.DeepClone();
        }

        return new CaseResult(figures, label => figures[label]);
    }

    /// <summary>Hanson–Brennan and Livingston–Lewis from a distribution of totals; cuts are read from the options' sentences.</summary>
    public static CaseResult Frequencies(CaseFile file)
    {
        var totals = Input.List(Input.First(file.Data, "score", "scores"), "score");
        var counts = Input.List(file.Data["frequency"], "frequency");
        var items = (int)(file.Option("n_items") ?? totals.Max());
        var observed = BetaFit.Observed(totals, counts);
        var moments = BetaFit.True(totals, counts, items);
        var four = BetaFit.FourParameters(moments);
        var (shape, key) = Shape(moments, four);
        var figures = new JsonObject
        {
            ["moments"] = Json.Object(
                ("mean", observed.Mean),
                ("variance_population", observed.Variance),
                ("skewness", observed.Skewness),
                ("kurtosis", observed.Kurtosis)
            ),
            ["true_score_moments"] = Json.Numbers(
                new[] { moments.Mean, moments.Variance, moments.Skewness, moments.Kurtosis }
            ),
            [key] = Json.Object(
                ("alpha", shape.Alpha),
                ("beta", shape.Beta),
                ("l", shape.Lower),
                ("u", shape.Upper)
            ),
        };
        if (four is { IsPermissible: false })
        {
            figures["four_parameter_fit_impermissible"] = Json.Numbers(
                new[] { four.Alpha, four.Beta, four.Lower, four.Upper }
            );
        }

        if (HansonBrennanCut().Match((string?)file.Options["HB"] ?? "") is { Success: true } hb)
        {
            var table = BetaBinomialClassification.Of(
                shape,
                items,
                [Parse(hb.Groups[2].Value)],
                [(int)Parse(hb.Groups[1].Value)]
            );
            figures["HB"] = Classification(table);
        }

        var text = (string?)file.Options["LL"] ?? "";
        if (ReliabilityPattern().Match(text) is { Success: true } reliability)
        {
            var etl = BetaBinomialClassification.EffectiveLength(
                observed.Mean,
                observed.Variance,
                Parse(reliability.Groups[1].Value),
                0,
                items
            );
            var length = (int)Math.Round(etl);
            figures["effective_test_length"] = etl;
            var shares = ShareTimes().Matches(text).Select(m => Parse(m.Groups[1].Value)).ToArray();
            var scaled =
                length == items
                    ? shape
                    : Shape(
                        BetaFit.True([.. totals.Select(t => t * length / items)], counts, length),
                        null
                    ).Shape;
            figures["LL"] = Classification(
                BetaBinomialClassification.Of(
                    scaled,
                    length,
                    shares,
                    [.. shares.Select(s => (int)Math.Round(s * length))]
                )
            );
        }

        return new CaseResult(
            figures,
            label => Named(label, figures, observed, moments, shape, counts.Sum())
        );
    }

    /// <summary>Four parameters where permissible, else three with u = 1, else two.</summary>
    private static (BetaShape Shape, string Key) Shape(Moments moments, BetaShape? four)
    {
        four ??= BetaFit.FourParameters(moments);
        return four is { IsPermissible: true } ? (four, "four_parameter_fit")
            : BetaFit.ThreeParameters(moments) is { } three ? (three, "three_parameter_fit_u=1")
            : (BetaFit.TwoParameters(moments), "two_parameter_fit");
    }

    private static JsonObject Classification(ClassificationResult r) =>
        new()
        {
            ["true_by_observed"] = Json.Rows(r.TrueByObserved),
            ["accuracy"] = r.Accuracy,
            ["observed_by_observed"] = Json.Rows(r.ObservedByObserved),
            ["consistency"] = r.Consistency.Agreement,
            ["chance_consistency"] = r.Consistency.Chance,
            ["kappa"] = Json.Number(r.Consistency.Kappa),
        };

    private static JsonNode? Named(
        string label,
        JsonObject figures,
        Moments observed,
        Moments moments,
        BetaShape shape,
        double n
    )
    {
        var words = label.Split(' ');
        if (words[0] is "HB" or "LL")
        {
            var block = figures[words[0]];
            return words[1] switch
            {
                "chance" => block?["chance_consistency"],
                ['t', var t, 'x', var x] when char.IsDigit(t) && char.IsDigit(x) => block
                    ?["true_by_observed"]
                    ?[t - '0']
                    ?[x - '0'],
                var name => block?[name],
            };
        }

        return label switch
        {
            "mean" => observed.Mean,
            "variance" => observed.Variance * n / (n - 1), // printed with n − 1
            "skewness" => observed.Skewness,
            "kurtosis" => observed.Kurtosis,
            "true mean" => moments.Mean,
            "true variance" => moments.Variance,
            "true skewness" => moments.Skewness,
            "true kurtosis" => moments.Kurtosis,
            "alpha" => shape.Alpha,
            "beta" => shape.Beta,
            "l" => shape.Lower,
            "u" => shape.Upper,
            _ => null,
        };
    }

    private static double Parse(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"cut (\d+), true cut (\d*\.\d+)")]
    private static partial Regex HansonBrennanCut();

    [GeneratedRegex(@"reliability (\d*\.\d+)")]
    private static partial Regex ReliabilityPattern();

    [GeneratedRegex(@"(\d*\.\d+)\*")]
    private static partial Regex ShareTimes();
}
