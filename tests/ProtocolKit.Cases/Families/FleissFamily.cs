using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Fleiss' kappa from counts or from ratings by rater; Conger's and Light's where the raters are known.</summary>
internal static class FleissFamily
{
    public static CaseResult Compute(CaseFile asked)
    {
        var file = asked.WithNumberedCategories();
        if (Input.First(file.Data, "counts_subject_by_category", "counts") is { } counts)
        {
            var figures = Figures(FleissKappa.Of(Input.Table(counts, "counts")));
            return new CaseResult(figures, label => Named(label, figures));
        }

        var ratings = RatingTables.Of(file.Data);
        if (ratings.Missing > 0 && (string?)file.Options["missing"] != "listwise")
        {
            throw new NotEstimableException(
                "Fleiss' kappa needs as many ratings for every subject, and some are missing: leave those subjects out (missing: listwise) or use Gwet's generalised form."
            );
        }

        ratings = ratings.CompleteRows();
        var levels = Input.First(file.Data, "levels", "categories", "scale") is { } l
            ? Input.List(l, "levels")
            : ratings.Levels();
        var kind = KappaFamily.WeightsOf(file, WeightKind.Identity);
        var weights = kind.For(levels);
        var both = Figures(FleissKappa.Of(FleissKappa.Counts(ratings, levels)));
        var (conger, light) = (
            Try(() => CongerKappa.Of(ratings, weights, levels, file.Confidence)),
            Try(() => CongerKappa.Light(ratings, weights, levels, file.Confidence))
        );
        both["light_kappa"] = Coefficient(light, "coef");
        both["light_se_jackknife"] = Coefficient(light, "se");
        both["light_ci"] = Coefficient(light, "ci");
        both["conger_exact_kappa"] = Coefficient(conger, "coef");
        both["conger_se"] = Coefficient(conger, "se");
        both["conger_ci"] = Coefficient(conger, "ci");
        return new CaseResult(both, label => Named(label, both));
    }

    private static JsonNode? Try(Func<AgreementCoefficient> compute) =>
        Json.Try(() =>
        {
            var c = compute();
            return Json.Object(("coef", c.Coefficient), ("se", c.StandardError))
                .With(("ci", Json.Pair(c.Interval)));
        });

    private static JsonNode? Coefficient(JsonNode? found, string key) =>
        (found?["error"] is null ? found?[key] : found)?.DeepClone();

    internal static JsonObject Figures(FleissResult r) =>
        new()
        {
            ["P_i"] = Json.Numbers(r.SubjectAgreement),
            ["P_bar"] = r.Observed,
            ["p_j"] = Json.Numbers(r.CategoryShares),
            ["P_e"] = r.Expected,
            ["kappa"] = r.Kappa,
            ["SE_null_Fleiss_Nee_Landis_1979"] = r.NullStandardError,
            ["z"] = r.Z,
            ["kappa_by_category"] = Json.Numbers(r.CategoryKappas),
            ["SE_by_category"] = r.CategoryStandardError,
            ["z_by_category"] = Json.Numbers(r.CategoryKappas.Select(k => k / r.CategoryStandardError)),
        };

    /// <summary>P_3 is the third subject, "category 3" the third category's kappa, p_3 its share.</summary>
    private static JsonNode? Named(string label, JsonObject figures)
    {
        var list =
            label.StartsWith("P_", StringComparison.Ordinal) ? figures["P_i"]
            : label.StartsWith("p_", StringComparison.Ordinal) ? figures["p_j"]
            : label.StartsWith("category ", StringComparison.Ordinal) ? figures["kappa_by_category"]
            : null;
        return
            list is JsonArray a
            && int.TryParse(label[(label.IndexOfAny(['_', ' ']) + 1)..], out var i)
            && i >= 1
            && i <= a.Count
            ? a[i - 1]
            : null;
    }
}
