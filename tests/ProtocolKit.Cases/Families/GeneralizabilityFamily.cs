using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Generalizability;

namespace ProtocolKit.Cases.Families;

/// <summary>G studies of persons × items and persons × items × occasions, with decision studies of the sizes asked for.</summary>
internal static partial class GeneralizabilityFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        if (DesignFamily.Fits(file))
        {
            return DesignFamily.Compute(file);
        }

        var cube = (file.Data as JsonObject)?.FirstOrDefault(p => Input.IsCube(p.Value)).Value;
        return cube is null ? TwoWay(file) : ThreeWay(file, cube);
    }

    private static CaseResult TwoWay(CaseFile file)
    {
        var scores = RatingTables.Of(file.Data);
        if (scores.Missing > 0 && (string?)file.Options["missing"] != "listwise")
        {
            return WithGaps(file, scores);
        }

        scores = scores.CompleteRows();
        var g = PersonByItem.Of(scores);
        Component[] parts = [g.Person, g.Item, g.Residual];
        double[] lambdas = file.Options["lambda"] switch
        {
            JsonArray a => Input.List(a, "lambda"),
            { } one => [Input.Number(one, "lambda")],
            null => [],
        };
        var sizes = Sizes(file, "n_i")?.Select(s => s[0]) ?? [1, 2, scores.Raters, 2.0 * scores.Raters];
        var figures = new JsonObject
        {
            ["df"] = Json.Numbers(parts.Select(p => (double)p.Df)),
            ["SS"] = Json.Numbers(parts.Select(p => p.SumOfSquares)),
            ["MS"] = Json.Numbers(parts.Select(p => p.MeanSquare)),
            ["var_raw"] = Components(parts, p => p.Raw),
            ["var_truncated"] = Components(parts, p => p.Variance),
            ["grand_mean"] = g.GrandMean,
            ["var_of_grand_mean"] = g.GrandMeanVariance,
            ["D_study"] = Json.List(sizes.Select(n => (JsonNode?)Study(g, n, lambdas))),
        };
        if (parts.All(p => p.Raw > 0))
        {
            // For complete data and positive components REML gives the mean-square estimates.
            figures["lme4_REML"] = Json.Object(
                ("p", g.Person.Raw),
                ("i", g.Item.Raw),
                ("Residual", g.Residual.Raw)
            );
        }

        return new CaseResult(figures, label => Named(label, g));
    }

    /// <summary>Persons × items with gaps: components by restricted maximum likelihood.</summary>
    private static CaseResult WithGaps(CaseFile file, RatingMatrix scores)
    {
        var v = CrossedVariance.Of(scores);
        var components = Json.Object(("p", v.Subject), ("i", v.Rater), ("pi,e", v.Residual));
        var sizes = Sizes(file, "n_i")?.Select(s => s[0]) ?? [1, 2, scores.Raters];
        DecisionStudy Decide(double n) => new(v.Subject, v.Residual / n, (v.Residual + v.Rater) / n);
        var figures = new JsonObject
        {
            ["var_raw"] = components.DeepClone(),
            ["var_truncated"] = components.DeepClone(),
            ["variance_components"] = components,
            ["lme4_REML"] = Json.Object(("p", v.Subject), ("i", v.Rater), ("Residual", v.Residual)),
            ["D_study"] = Json.List(
                sizes.Select(n =>
                    (JsonNode?)
                        Json.Object(
                            ("n_i", n),
                            ("relative_error_var", Decide(n).Relative),
                            ("absolute_error_var", Decide(n).Absolute),
                            ("E_rho2", Decide(n).Generalizability),
                            ("Phi", Decide(n).Dependability)
                        )
                )
            ),
        };
        return new CaseResult(figures);
    }

    private static JsonObject Study(PersonByItem g, double items, double[] lambdas)
    {
        var d = g.Decide(items);
        var figures = Json.Object(
            ("n_i", items),
            ("relative_error_var", d.Relative),
            ("absolute_error_var", d.Absolute),
            ("E_rho2", d.Generalizability),
            ("Phi", d.Dependability)
        );
        var each = new JsonObject();
        foreach (var lambda in lambdas)
        {
            each[lambda.ToString(CultureInfo.InvariantCulture)] = new JsonObject
            {
                ["plain"] = Json.Try(() => g.PhiLambda(items, lambda)),
                ["unbiased"] = Json.Try(() => g.PhiLambdaUnbiased(items, lambda)),
            };
        }

        figures["phi_lambda"] = each;
        return figures;
    }

    private static JsonNode? Named(string label, PersonByItem g)
    {
        if (Size().Match(label) is { Success: true } m)
        {
            var d = g.Decide(double.Parse(m.Groups[2].Value, CultureInfo.InvariantCulture));
            return m.Groups[1].Value switch
            {
                "rel_err" => Json.Number(d.Relative),
                "abs_err" => Json.Number(d.Absolute),
                "E_rho2" => Json.Number(d.Generalizability),
                "Phi" => Json.Number(d.Dependability),
                _ => null,
            };
        }

        return label switch
        {
            "var_p" => Json.Number(g.Person.Raw),
            "var_i" => Json.Number(g.Item.Raw),
            "var_pi" => Json.Number(g.Residual.Raw),
            "MS_p" => Json.Number(g.Person.MeanSquare),
            "MS_i" => Json.Number(g.Item.MeanSquare),
            "MS_pi" => Json.Number(g.Residual.MeanSquare),
            _ => null,
        };
    }

    private static CaseResult ThreeWay(CaseFile file, JsonNode cube)
    {
        var values = ((JsonArray)cube).Select((p, i) => Input.Table(p, $"person {i + 1}")).ToArray();
        if (OccasionsFirst().IsMatch((string?)file.Data["index"] ?? ""))
        {
            values =
            [
                .. values.Select(p =>
                    Enumerable.Range(0, p[0].Length).Select(i => p.Select(o => o[i]).ToArray()).ToArray()
                ),
            ];
        }

        var g = PersonByItemByOccasion.Of(values);
        var sizes =
            Sizes(file, "n_i", "n_o")
            ??
            [
                [values[0].Length, values[0][0].Length],
                [1, 1],
            ];
        var repeated = g.Repeated();
        var figures = new JsonObject
        {
            ["df"] = Components(g.Components, c => c.Df),
            ["SS"] = Components(g.Components, c => c.SumOfSquares),
            ["MS"] = Components(g.Components, c => c.MeanSquare),
            ["var_raw"] = Components(g.Components, c => c.Raw),
            ["var_truncated"] = Components(g.Components, c => c.Variance),
            ["variance_components"] = Components(g.Components, c => c.Raw),
            ["grand_mean"] = g.GrandMean,
            ["D_study"] = Json.List(sizes.Select(s => (JsonNode?)Study(g.Decide(s[0], s[1]), s[0], s[1]))),
        };
        var daily = Json.Object(
            ("RkF", repeated.AverageFixed),
            ("R1R", repeated.SingleRandom),
            ("RkR", repeated.AverageRandom),
            ("Rc", double.IsFinite(repeated.Change) ? repeated.Change : null)
        );
        foreach (var (key, value) in daily)
        {
            figures[key] = value?.DeepClone();
        }

        figures["psych"] = daily;
        return new CaseResult(figures, label => Named(label, g, daily));
    }

    private static JsonObject Study(DecisionStudy d, double items, double occasions) =>
        Json.Object(
            ("n_i", items),
            ("n_o", occasions),
            ("relative_error_var", d.Relative),
            ("absolute_error_var", d.Absolute),
            ("E_rho2", d.Generalizability),
            ("Phi", d.Dependability),
            ("SEM_absolute", d.AbsoluteError)
        );

    private static JsonNode? Named(string label, PersonByItemByOccasion g, JsonObject daily)
    {
        if (label.StartsWith("var_", StringComparison.Ordinal))
        {
            return Json.Number(g.Components.FirstOrDefault(c => c.Name == label[4..])?.Raw);
        }

        if (Sizes().Match(label) is { Success: true } m)
        {
            var d = g.Decide(
                double.Parse(m.Groups[2].Value, CultureInfo.InvariantCulture),
                double.Parse(m.Groups[3].Value, CultureInfo.InvariantCulture)
            );
            return m.Groups[1].Value switch
            {
                "E_rho2" => Json.Number(d.Generalizability),
                "Phi" => Json.Number(d.Dependability),
                _ => null,
            };
        }

        return daily[label];
    }

    /// <summary>The sizes of the decision studies asked for.</summary>
    private static List<double[]>? Sizes(CaseFile file, params string[] names) =>
        (file.Requested(names) as JsonObject)?["D_study"] is JsonArray { Count: > 0 } rows
            ? [.. rows.Select(r => names.Select(n => Input.Number(r?[n], n)).ToArray())]
            : null;

    private static JsonObject Components(IEnumerable<Component> parts, Func<Component, double> value) =>
        new(parts.Select(p => KeyValuePair.Create(p.Name, Json.Number(value(p)))));

    /// <summary>values[person][occasion][item] in place of values[person][item][occasion].</summary>
    [GeneratedRegex(@"\[p\w*\]\[[ot]\w*\]\[i\w*\]")]
    private static partial Regex OccasionsFirst();

    [GeneratedRegex(@"^(\w+) n=(\d+)$")]
    private static partial Regex Size();

    [GeneratedRegex(@"^(\w+) \((\d+),\s*(\d+)\)$")]
    private static partial Regex Sizes();
}
