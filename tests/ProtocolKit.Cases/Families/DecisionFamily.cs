using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.CutOffs;
using ProtocolKit.Calibration.Generalizability;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Calibration.Reliability;

namespace ProtocolKit.Cases.Families;

/// <summary>Decision consistency from one administration, before beta distributions come in (<see cref="BetaFamily"/>).</summary>
internal static partial class DecisionFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var data = file.Data;
        return data["z"] is not null && data["reliability"] is JsonArray ? Tables(file)
            : file.Method.Contains("huynh", StringComparison.OrdinalIgnoreCase) ? BetaFamily.Huynh(file)
            : data["values"] is not null ? FromItems(file)
            : data["mean"] is not null ? BetaFamily.Huynh(file)
            : data["frequency"] is not null ? BetaFamily.Frequencies(file)
            : data["scores"] is not null && IsBeta(file) ? BetaFamily.Frequencies(file)
            : file.Options["reliability"] is not null ? BetaFamily.Scores(file)
            : data["reliability"] is not null ? Livingston(file)
            : Subkoviak(file);
    }

    /// <summary>Totals as they are, with the options of a distribution of totals.</summary>
    private static bool IsBeta(CaseFile file) =>
        file.Options["HB"] is not null
        || file.Options["LL"] is not null
        || file.Options["true_cut"] is not null
        || file.Options["true_cuts"] is not null;

    private static CaseResult Tables(CaseFile file)
    {
        var z = Input.List(file.Data["z"], "z");
        var r = Input.List(file.Data["reliability"], "reliability");
        var results = z.Select(a => r.Select(b => DecisionConsistency.BivariateNormal(a, b)).ToArray())
            .ToArray();
        var figures = new JsonObject
        {
            ["agreement"] = Json.Rows(results.Select(row => row.Select(c => c.Agreement))),
            ["kappa"] = Json.List(results.Select(row => (JsonNode?)Json.Numbers(row.Select(c => c.Kappa)))),
        };
        figures["cells_not_matching_to_two_digits [table, z, r, printed, computed]"] = Json.List(
            Differing(file, "agreement", z, r, results, c => c.Agreement)
                .Concat(Differing(file, "kappa", z, r, results, c => c.Kappa ?? 0))
                .OrderBy(d => d.Row)
                .Select(d => (JsonNode?)d.Cell)
        );
        return new CaseResult(figures);
    }

    /// <summary>Printed cells farther from ours than rounding to two digits, with a little room, explains.</summary>
    private static IEnumerable<(int Row, JsonArray Cell)> Differing(
        CaseFile file,
        string name,
        double[] z,
        double[] r,
        ConsistencyResult[][] results,
        Func<ConsistencyResult, double> figure
    )
    {
        double[][] printed = file.Data["published_" + name] is { } node ? Input.Table(node, name) : [];
        for (var i = 0; i < printed.Length; i++)
        {
            for (var j = 0; j < printed[i].Length; j++)
            {
                var ours = figure(results[i][j]);
                if (Math.Abs(ours - printed[i][j]) > 0.00515)
                {
                    yield return (i, new JsonArray(name, z[i], r[j], printed[i][j], Math.Round(ours, 4)));
                }
            }
        }
    }

    private static CaseResult FromItems(CaseFile file)
    {
        var scores = Input.Matrix(file.Data["values"], "values").CompleteRows();
        var items = scores.Raters;
        double[] totals = [.. Enumerable.Range(0, scores.Subjects).Select(s => scores.Present(s).Sum())];
        var (mean, sd) = (Descriptive.Mean(totals), Descriptive.StandardDeviation(totals));
        var cut =
            file.Option("cut_raw")
            ?? file.Option("cut")
            ?? throw new NotEstimableException("A cut is needed under options.");
        var lambda = file.Option("lambda") ?? (cut / items);
        var k = KuderRichardson.Of(scores);
        var g = PersonByItem.Of(scores);
        var z = (cut - 0.5 - mean) / sd;
        var figures = Json.Object(
            ("mean", mean),
            ("sd", sd),
            ("z", z),
            ("KR20", k.Alpha),
            ("KR21", k.Kr21Sample),
            ("domain_phi_KR20_shortcut", DecisionConsistency.ShortcutPhi(totals, items, k.Alpha)),
            ("domain_phi_KR21_shortcut", DecisionConsistency.ShortcutPhi(totals, items, k.Kr21Sample)),
            ("phi_lambda_shortcut", DecisionConsistency.ShortcutPhiLambda(totals, items, lambda))
        );
        figures["subkoviak_exact_r_KR20"] = Consistency(DecisionConsistency.BivariateNormal(z, k.Alpha));
        figures["subkoviak_exact_r_KR21"] = Consistency(DecisionConsistency.BivariateNormal(z, k.Kr21Sample));
        var study = g.Decide(items);
        figures["G"] = Json.Object(
            ("var_p", g.Person.Raw),
            ("var_i", g.Item.Raw),
            ("var_pi", g.Residual.Raw),
            ("E_rho2", study.Generalizability),
            ("Phi", study.Dependability),
            ("phi_lambda_unbiased", g.PhiLambdaUnbiased(items, lambda)),
            ("phi_lambda_plain", g.PhiLambda(items, lambda))
        );
        return new CaseResult(figures, label => Named(label, figures, z, k.Alpha));
    }

    private static JsonNode? Named(string label, JsonObject figures, double z, double reliability)
    {
        if (label.Contains("table", StringComparison.Ordinal))
        {
            // As a reader of the printed table does it: |z| and reliability to one digit.
            var c = DecisionConsistency.BivariateNormal(
                Math.Round(Math.Abs(z), 1),
                Math.Round(reliability, 1)
            );
            return Json.Number(label.StartsWith("kappa", StringComparison.Ordinal) ? c.Kappa : c.Agreement);
        }

        return label switch
        {
            "phi_domain_KR20" => figures["domain_phi_KR20_shortcut"],
            "phi_domain_KR21" => figures["domain_phi_KR21_shortcut"],
            "phi_lambda" => figures["phi_lambda_shortcut"],
            _ => figures[label],
        };
    }

    internal static JsonObject Consistency(ConsistencyResult c) =>
        Json.Object(("agreement", c.Agreement), ("kappa", c.Kappa));

    private static CaseResult Subkoviak(CaseFile file)
    {
        var totals = Input.List(file.Data["scores"], "scores");
        var items = (int)(
            file.Option("n_items")
            ?? throw new NotEstimableException("The number of items is needed under options.")
        );
        var cut = (int)(
            file.Option("cut") ?? throw new NotEstimableException("A cut is needed under options.")
        );
        var population = KuderRichardson.Kr21(
            items,
            Descriptive.Mean(totals),
            Descriptive.PopulationVariance(totals)
        );
        var figures = new JsonObject();
        foreach (
            var key in file
                .RequestedKeys.Concat(file.Published)
                .Append("alpha_KR21_population")
                .Distinct()
                .ToList()
        )
        {
            if (AlphaIn(key, population) is { } alpha)
            {
                figures[KeyOf(key, alpha)] = Block(alpha);
            }
        }

        return new CaseResult(figures, label => SubkoviakNamed(label));

        JsonObject Block(double alpha)
        {
            var (shares, own, result) = DecisionConsistency.Binomial(totals, items, cut, alpha);
            return new JsonObject
            {
                ["alpha"] = alpha,
                ["p_hat"] = Json.Numbers(shares),
                ["P_i"] = Json.Numbers(own),
                ["agreement"] = result.Agreement,
                ["chance"] = result.Chance,
                ["kappa"] = Json.Number(result.Kappa),
            };
        }

        JsonNode? SubkoviakNamed(string label)
        {
            var alpha =
                AlphaIn(label, population)
                ?? file.RequestedKeys.Select(k => AlphaIn(k, population)).FirstOrDefault(a => a is not null)
                ?? population;
            return Block(alpha)[label.Split(' ')[0]];
        }
    }

    private static string KeyOf(string key, double alpha) =>
        key.StartsWith("alpha_", StringComparison.Ordinal)
            ? key
            : "alpha_" + alpha.ToString("0.####", CultureInfo.InvariantCulture);

    /// <summary>"alpha_0.58", "agreement (alpha .58)", "kappa (alpha 19/29)", "alpha_KR21_population".</summary>
    private static double? AlphaIn(string key, double population)
    {
        if (key == "alpha_KR21_population")
        {
            return population;
        }

        var m = AlphaPattern().Match(key);
        return !m.Success ? null
            : m.Groups[2].Success ? Parse(m.Groups[1].Value) / Parse(m.Groups[2].Value)
            : Parse(m.Groups[1].Value);
    }

    private static CaseResult Livingston(CaseFile file)
    {
        var totals = Input.List(file.Data["scores"], "scores");
        var k2 = DecisionConsistency.LivingstonK2(
            totals,
            Input.Number(file.Data["cut"], "cut"),
            Input.Number(file.Data["reliability"], "reliability")
        );
        var doubled = SpearmanBrown.Prophecy(k2, 2);
        var figures = Json.Object(("k2", k2), ("spearman_brown_2", doubled));
        figures["exact"] = new JsonArray(Fractions.Text(k2), Fractions.Text(doubled));
        return new CaseResult(figures, label => label == "k2 doubled length" ? doubled : figures[label]);
    }

    private static double Parse(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"alpha[ _](\d*\.?\d+)(?:/(\d+))?")]
    private static partial Regex AlphaPattern();
}
