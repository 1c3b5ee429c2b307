using System.Globalization;
using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Cases.Families;

/// <summary>Limits of agreement of two methods, or repeatability of one method read twice.</summary>
internal static class BlandAltmanFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var lists = Input.Lists(file.Data).ToList();
        var twice = lists.Where(l => l.Key.EndsWith("_1", StringComparison.Ordinal)).ToList();
        return twice.Count > 0 ? Twice(file, twice) : Once(file, lists);
    }

    private static CaseResult Once(CaseFile file, List<KeyValuePair<string, JsonNode?>> lists)
    {
        if (lists.Count < 2)
        {
            throw new NotEstimableException("Two lists are needed: the same subjects by two methods.");
        }

        lists = InOrder(lists, (string?)file.Options["difference"]);
        var pairs = Input
            .Gappy(lists[0].Value, lists[0].Key)
            .Zip(Input.Gappy(lists[1].Value, lists[1].Key))
            .Where(p => p.First is not null && p.Second is not null)
            .ToList();
        double[] first = [.. pairs.Select(p => p.First!.Value)];
        double[] second = [.. pairs.Select(p => p.Second!.Value)];
        LimitsOfAgreement Limits(double? multiplier) =>
            BlandAltman.Limits(first, second, multiplier, file.Confidence);
        var own = file.Option("multiplier");
        var exact = Distributions.NormalMultiplier(file.Confidence);
        var figures = new JsonObject
        {
            ["multiplier_2"] = Figures(Limits(2)),
            ["multiplier_1.96"] = Figures(Limits(1.96)),
            ["multiplier_exact_quantile"] = Figures(Limits(exact)),
        };
        if (own is { } asked)
        {
            figures["multiplier_" + asked.ToString(CultureInfo.InvariantCulture)] = Figures(Limits(asked));
        }

        return new CaseResult(
            figures,
            label => Named(label, Limits(own ?? 2), Limits(own ?? 1.96), Limits(own ?? exact))
        );
    }

    /// <summary>"mini - large" takes the lists whose names begin so, in this order.</summary>
    private static List<KeyValuePair<string, JsonNode?>> InOrder(
        List<KeyValuePair<string, JsonNode?>> lists,
        string? difference
    )
    {
        var names = (difference ?? "").Split(" - ");
        var found = names
            .Select(n =>
                lists.FirstOrDefault(l => l.Key.StartsWith(n.Trim(), StringComparison.OrdinalIgnoreCase))
            )
            .ToList();
        return names.Length == 2 && found.All(f => f.Key is not null) && found[0].Key != found[1].Key
            ? found
            : lists;
    }

    private static JsonObject Figures(LimitsOfAgreement r) =>
        new()
        {
            ["n"] = r.Count,
            ["bias"] = r.Bias,
            ["sd"] = r.StandardDeviation,
            ["se_bias"] = r.BiasError,
            ["bias_ci"] = Json.Pair(r.BiasInterval),
            ["loa"] = Json.Pair(r.Limits),
            ["se_loa_approx_sqrt(3s^2/n)"] = r.LimitError,
            ["loa_low_ci"] = Json.Pair(r.LowerLimitInterval),
            ["loa_high_ci"] = Json.Pair(r.UpperLimitInterval),
            ["se_loa_1999_form"] = r.LimitError1999,
        };

    private static JsonNode? Named(
        string label,
        LimitsOfAgreement two,
        LimitsOfAgreement rounded,
        LimitsOfAgreement exact
    )
    {
        var name = label.Split(' ')[0];
        var limits = name.EndsWith("_1.96", StringComparison.Ordinal) ? exact : two;
        name = name.EndsWith("_1.96", StringComparison.Ordinal) ? name[..^5] : name;
        name =
            name.EndsWith('d') && name.Contains('_', StringComparison.Ordinal) && char.IsDigit(name[^2])
                ? name.Split('_')[0]
                : name;
        return name switch
        {
            "bias" => Json.Number(two.Bias),
            "sd" => Json.Number(two.StandardDeviation),
            "bias_ci_low" => Json.Number(rounded.BiasInterval.Low),
            "bias_ci_high" => Json.Number(rounded.BiasInterval.High),
            "loa_low" => Json.Number(limits.Limits.Low),
            "loa_high" => Json.Number(limits.Limits.High),
            "loa_low_ci_low" => Json.Number(limits.LowerLimitInterval.Low),
            "loa_low_ci_high" => Json.Number(limits.LowerLimitInterval.High),
            "loa_high_ci_low" => Json.Number(limits.UpperLimitInterval.Low),
            "loa_high_ci_high" => Json.Number(limits.UpperLimitInterval.High),
            _ => null,
        };
    }

    private static CaseResult Twice(CaseFile file, List<KeyValuePair<string, JsonNode?>> firsts)
    {
        var figures = new JsonObject();
        foreach (var (key, node) in firsts)
        {
            var stem = key[..^2];
            var r = BlandAltman.Repeatability(
                Input.List(node, key),
                Input.List(file.Data[stem + "_2"], stem + "_2")
            );
            figures[stem] = Json.Object(
                ("mean_diff", r.MeanDifference),
                ("sd_diff_about_mean", r.DifferencesAboutMean),
                ("sd_diff_about_zero", r.DifferencesAboutZero),
                ("within_subject_sd", r.WithinSubject),
                ("repeatability_2sd_about_zero", r.Coefficient),
                ("repeatability_1.96sqrt2_sw", r.CoefficientOfWithin)
            );
        }

        return new CaseResult(
            figures,
            label =>
            {
                var words = label.Split(' ');
                return words.ElementAtOrDefault(1) switch
                {
                    "SD" => figures[words[0]]?["sd_diff_about_zero"],
                    "coefficient" => figures[words[0]]?["repeatability_2sd_about_zero"],
                    _ => null,
                };
            }
        );
    }
}
