using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Intraclass correlations: six forms of complete tables, variance components of incomplete ones.</summary>
internal static partial class IccFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var tables = Input.Tables(file.Data).ToList();
        if (tables.Count > 1 || file.Requested() is JsonObject o && tables.All(t => o.ContainsKey(t.Key)))
        {
            var each = new JsonObject();
            foreach (var (name, table) in tables)
            {
                each[name] = Json.Try(() => Edge(Input.Matrix(table, name), file.Confidence));
            }

            return new CaseResult(each);
        }

        var ratings = RatingTables.Of(file.Data);
        if (IsOneWay(file))
        {
            return OneWay(ratings, file.Confidence);
        }

        return ratings.Missing > 0 && (string?)file.Options["missing"] != "listwise"
            ? new CaseResult(Incomplete(ratings))
            : Complete(ratings.CompleteRows(), file);
    }

    /// <summary>A one-way model is asked for by name only: other raters for every subject, their number may differ.</summary>
    private static bool IsOneWay(CaseFile file) =>
        new[] { (string?)file.Options["model"], (string?)file.Options["estimator"], file.Method }.Any(t =>
            t is not null
            && (
                t.Contains("one-way", StringComparison.OrdinalIgnoreCase)
                || t.Contains("oneway", StringComparison.OrdinalIgnoreCase)
            )
        );

    private static CaseResult OneWay(RatingMatrix ratings, double confidence)
    {
        var r = OneWayCorrelation.Of(ratings, confidence);
        var figures = Json.Object(
            ("MSB", r.MeanBetween),
            ("MSW", r.MeanWithin),
            ("df1", r.Df1),
            ("df2", r.Df2),
            ("F", r.F),
            ("p", r.P),
            ("k0", r.RatingsPerSubject),
            ("k_eff", r.RatingsPerSubject),
            ("var_subject", r.SubjectVariance),
            ("var_residual", r.MeanWithin),
            ("ICC(1,1)", r.Single),
            ("ICC(1,k)", r.Average),
            ("ICC1", r.Single),
            ("ICC1k", r.Average),
            ("icc", r.Single),
            ("ci_low", r.Interval?.Low),
            ("ci_high", r.Interval?.High)
        );
        return new CaseResult(figures, label => figures[label]);
    }

    private static CaseResult Complete(RatingMatrix ratings, CaseFile file)
    {
        var result = IntraclassCorrelation.Of(ratings, file.Confidence);
        var figures = new JsonObject
        {
            ["forms"] = Forms(result),
            ["anova"] = Anova(result),
            ["mcgraw_wong_names"] = new JsonObject(
                result.Forms.Select(f => KeyValuePair.Create(f.McGrawWong, (JsonNode?)f.Name))
            ),
            ["irr_style_F_test"] = Json.Object(
                ("F", result["ICC(2,1)"].F),
                ("df1", result["ICC(2,1)"].Df1),
                ("df2", result.SatterthwaiteDf)
            ),
        };
        var asked = string.Join(' ', file.Published.Prepend(file.Method));
        var main =
            result.Forms.FirstOrDefault(f =>
                asked.Contains(f.McGrawWong, StringComparison.Ordinal)
                || asked.Contains(f.Name, StringComparison.Ordinal)
            ) ?? result["ICC(2,1)"];
        if ((string?)file.Options["form"] is { } form)
        {
            main = result[form];
        }

        foreach (var f in result.Forms)
        {
            figures[f.McGrawWong] = Json.Number(f.Icc);
        }

        return new CaseResult(figures, label => Named(label, result, main));
    }

    private static JsonObject Forms(IccResult result) =>
        new(
            result.Forms.Select(f =>
                KeyValuePair.Create(
                    f.Name,
                    (JsonNode?)
                        Json.Object(
                            ("icc", f.Icc),
                            ("F", f.F),
                            ("df1", f.Df1),
                            ("df2", f.Df2),
                            ("p", f.P),
                            ("ci_low", f.Interval?.Low),
                            ("ci_high", f.Interval?.High)
                        )
                )
            )
        );

    private static JsonObject Anova(IccResult result)
    {
        var a = result.Anova;
        return Json.Object(
            ("n_targets", a.Targets),
            ("k_judges", a.Judges),
            ("grand_mean", a.GrandMean),
            ("SSB", a.SumBetween),
            ("SSJ", a.SumJudges),
            ("SSE", a.SumError),
            ("SSW", a.SumWithin),
            ("MSB", a.MeanBetween),
            ("MSJ", a.MeanJudges),
            ("MSE", a.MeanError),
            ("MSW", a.MeanWithin),
            ("satterthwaite_df_for_ICC(2)", result.SatterthwaiteDf),
            ("var_target", a.TargetVariance),
            ("var_judge", a.JudgeVariance),
            ("var_residual", a.MeanError),
            ("SEM_agreement_sqrt(var_judge+var_residual)", result.AgreementError),
            ("SEM_consistency_sqrt(MSE)", result.ConsistencyError)
        );
    }

    /// <summary>Tables at the edge: perfect agreement, no variance.</summary>
    private static JsonObject Edge(RatingMatrix ratings, double confidence)
    {
        var anova = IntraclassCorrelation.Anova(ratings);
        var figures = Json.Object(
            ("MSB", anova.MeanBetween),
            ("MSW", anova.MeanWithin),
            ("MSE", anova.MeanError)
        );
        try
        {
            var result = IntraclassCorrelation.Of(ratings, confidence);
            var same = result.Forms.All(f => f.Icc == result.Forms[0].Icc);
            figures["all_six_forms"] = same ? Json.Number(result.Forms[0].Icc) : null;
            figures["forms"] = Forms(result);
            figures["F"] = Json.Number(result.Forms[0].F);
            figures["ci"] = result.Forms[0].Interval is { } i
                ? Json.Pair(i)
                : "undefined: the F statistic is infinite";
        }
        catch (NotEstimableException e)
        {
            figures["all_six_forms"] = null;
            figures["meaning"] = e.Message;
        }

        return figures;
    }

    private static JsonObject Incomplete(RatingMatrix ratings)
    {
        var v = CrossedVariance.Of(ratings);
        return Json.Object(
            ("var_subject", v.Subject),
            ("var_judge", v.Rater),
            ("var_residual", v.Residual),
            ("k_eff", v.RatingsPerSubject),
            ("ICC_A1", v.AgreementSingle),
            ("ICC_C1", v.ConsistencySingle),
            ("ICC_Ak", v.AgreementMean),
            ("ICC_Ck", v.ConsistencyMean)
        );
    }

    private static JsonNode? Named(string label, IccResult result, IccForm main)
    {
        var a = result.Anova;
        double? square = label switch
        {
            "BMS" or "MSB" or "MSR" => a.MeanBetween,
            "WMS" or "MSW" => a.MeanWithin,
            "JMS" or "MSJ" or "MSC" => a.MeanJudges,
            "EMS" or "MSE" => a.MeanError,
            _ => null,
        };
        if (square is not null)
        {
            return Json.Number(square);
        }

        var form = FormIn(label) is { } name ? result.Forms.FirstOrDefault(f => f.Name == name) : main;
        var quantity = FormPattern().Replace(label, "").Trim().ToUpperInvariant();
        return form is null
            ? null
            : quantity switch
            {
                "" or "ICC" => Json.Number(form.Icc),
                "F" => Json.Number(form.F),
                "P" => Json.Number(form.P),
                "DF1" => Json.Number(form.Df1),
                "DF2" => Json.Number(form.Df2),
                _ when quantity.Contains("LOW", StringComparison.Ordinal)
                        || quantity.Contains("LWR", StringComparison.Ordinal) => Json.Number(
                    form.Interval?.Low
                ),
                _ when quantity.Contains("HIGH", StringComparison.Ordinal)
                        || quantity.Contains("UPP", StringComparison.Ordinal) => Json.Number(
                    form.Interval?.High
                ),
                _ => null,
            };
    }

    /// <summary>The Shrout–Fleiss name of the form a label speaks of; a number of raters is read as k.</summary>
    private static string? FormIn(string label)
    {
        var m = FormPattern().Match(label);
        if (!m.Success)
        {
            return null;
        }

        var model = m.Groups["model"].Value switch
        {
            "A" => "2",
            "C" => "3",
            "" => "1",
            var digit => digit,
        };
        var unit = m.Groups["unit"].Value;
        return unit is "" or "1" ? $"ICC({model},1)" : $"ICC({model},k)";
    }

    [GeneratedRegex(
        @"ICC\((?<model>[123AC]),(?<unit>1|k|\d+)\)|ICC\((?<unit>1|k)\)|ICC(?<model>[123])(?<unit>k?)|(?<=^F)(?<model>[123])$|(?<= )(?<unit>1|k)$"
    )]
    private static partial Regex FormPattern();
}
