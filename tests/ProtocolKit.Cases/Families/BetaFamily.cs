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
        var (items, cut, mean, sd) = Summary(file);
        var (kr21, shape, table) = HuynhConsistency.Of(items, mean, sd * sd, cut);
        var totals = BetaBinomialClassification.Totals(shape, items);
        var figures = Json.Object(("KR21", kr21), ("alpha", shape.Alpha), ("beta", shape.Beta));
        figures["score_distribution"] = Json.Numbers(totals);
        figures["P(master)"] = totals.Skip(cut).Sum();
        figures["p_agreement"] = table.Consistency.Agreement;
        figures["kappa"] = Json.Number(table.Consistency.Kappa);
        figures["accuracy_true_cut_c/n"] = table.Accuracy;
        return new CaseResult(figures);
    }

    /// <summary>Number of items, cut, mean and SD: given, or worked out from totals or from answers right or wrong.</summary>
    private static (int Items, int Cut, double Mean, double Deviation) Summary(CaseFile file)
    {
        double Named(params string[] names) =>
            names.Select(n => file.Option(n)).FirstOrDefault(v => v is not null)
            ?? Input.Number(file.Data, names[0], names);
        var cut = (int)Named("cut", "cut_raw");
        if (file.Data["mean"] is not null)
        {
            return ((int)Named("n_items", "n"), cut, Named("mean"), Named("sd"));
        }

        var answers = file.Data["values"] is { } node ? Input.Table(node, "values") : null;
        double[] totals = answers is null
            ? Input.List(Input.First(file.Data, "scores", "totals"), "scores")
            : [.. answers.Select(a => a.Sum())];
        return (
            answers?[0].Length ?? (int)Named("n_items", "n"),
            cut,
            Descriptive.Mean(totals),
            Descriptive.StandardDeviation(totals)
        );
    }

    /// <summary>Livingston–Lewis from a list of totals, with one cut.</summary>
    public static CaseResult Scores(CaseFile file)
    {
        var totals = Input.List(file.Data["scores"], "scores");
        double Needed(string name) =>
            file.Option(name) ?? throw new NotEstimableException($"\"{name}\" is needed under options.");
        var (least, most, reliability) = (Needed("min"), Needed("max"), Needed("reliability"));
        var cuts =
            Many(file, "cuts", "cut") ?? throw new NotEstimableException("\"cut\" is needed under options.");
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
        double[] shares = [.. cuts.Select(c => (c - least) / (most - least))];
        int[] ks = [.. shares.Select(s => (int)Math.Round(items * s))];
        var table = BetaBinomialClassification.Of(shape, items, shares, ks);
        var figures = Json.Object(
            ("etl", etl),
            ("N", items),
            ("alpha", shape.Alpha),
            ("beta", shape.Beta),
            ("l", shape.Lower),
            ("u", shape.Upper),
            ("accuracy", table.Accuracy),
            ("consistency", table.Consistency.Agreement),
            ("chance_consistency", table.Consistency.Chance),
            ("kappa", table.Consistency.Kappa)
        );
        figures["two_parameter"] = two;
        if (cuts.Length == 1)
        {
            OneCut(figures, table, ks[0]);
        }

        foreach (var (key, value) in Classification(table))
        {
            figures.TryAdd(key, value?.DeepClone());
        }

        return new CaseResult(figures, label => figures[label]);
    }

    private static void OneCut(JsonObject figures, ClassificationResult table, int k)
    {
        var (tp, fp, tf, ff) = (
            table.TrueByObserved[1][1],
            table.TrueByObserved[0][1],
            table.TrueByObserved[0][0],
            table.TrueByObserved[1][0]
        );
        figures.With(
            ("k", k),
            ("p_tp", tp),
            ("p_fp", fp),
            ("p_tf", tf),
            ("p_ff", ff),
            ("sensitivity", Json.Number(tp / (tp + ff))),
            ("specificity", Json.Number(tf / (tf + fp)))
        );
    }

    /// <summary>Hanson–Brennan and Livingston–Lewis from a distribution of totals; cuts are read from the options' sentences.</summary>
    public static CaseResult Frequencies(CaseFile file)
    {
        var totals = Input.List(Input.First(file.Data, "score", "scores"), "score");
        double[] counts = file.Data["frequency"] is { } node
            ? Input.List(node, "frequency")
            : [.. totals.Select(_ => 1.0)];
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

        if (HansonBrennan(file) is { } hb)
        {
            figures["HB"] = Classification(BetaBinomialClassification.Of(shape, items, hb.TrueCuts, hb.Cuts));
        }

        if (LivingstonLewis(file) is { } ll)
        {
            var etl = BetaBinomialClassification.EffectiveLength(
                observed.Mean,
                observed.Variance,
                ll.Reliability,
                0,
                items
            );
            var length = (int)Math.Round(etl);
            figures["effective_test_length"] = etl;
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
                    ll.Shares,
                    [.. ll.Shares.Select(s => (int)Math.Round(s * length))]
                )
            );
        }

        return new CaseResult(
            figures,
            label => Named(label, figures, observed, moments, shape, counts.Sum())
        );
    }

    /// <summary>Observed and true cuts: from a sentence, "cut 24, true cut .6", or from options of their own.</summary>
    private static (int[] Cuts, double[] TrueCuts)? HansonBrennan(CaseFile file)
    {
        var spoken = HansonBrennanCut().Matches((string?)file.Options["HB"] ?? "");
        if (spoken.Count > 0)
        {
            return (
                [.. spoken.Select(m => (int)Parse(m.Groups[1].Value))],
                [.. spoken.Select(m => Parse(m.Groups[2].Value))]
            );
        }

        var trueCuts = Many(file, "true_cuts", "true_cut");
        var cuts = Many(file, "cuts", "cut");
        return trueCuts is not null && cuts is not null && cuts.Length == trueCuts.Length
            ? ([.. cuts.Select(c => (int)c)], trueCuts)
            : null;
    }

    /// <summary>Reliability and true cuts as shares: from a sentence, "reliability .873 … .55*40", or from options of their own.</summary>
    private static (double Reliability, double[] Shares)? LivingstonLewis(CaseFile file)
    {
        var text = (string?)file.Options["LL"] ?? "";
        if (ReliabilityPattern().Match(text) is { Success: true } spoken)
        {
            return (
                Parse(spoken.Groups[1].Value),
                [.. ShareTimes().Matches(text).Select(m => Parse(m.Groups[1].Value))]
            );
        }

        return file.Option("reliability") is { } r && Many(file, "true_cuts", "true_cut") is { } shares
            ? (r, shares)
            : null;
    }

    private static double[]? Many(CaseFile file, string many, string one) =>
        file.Options[many] is JsonArray list ? Input.List(list, many)
        : file.Option(one) is { } single ? [single]
        : null;

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
