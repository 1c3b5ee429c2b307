using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Fleiss' kappa from counts or from ratings by rater; Conger's and Light's where the raters are known.</summary>
internal static class FleissFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        if (Input.First(file.Data, "counts_subject_by_category", "counts") is { } counts)
        {
            var figures = Figures(FleissKappa.Of(Input.Table(counts, "counts")));
            return new CaseResult(figures, label => Named(label, figures));
        }

        var ratings = Ratings(Input.First(file.Data, "ratings", "values")).CompleteRows();
        var levels = Input.First(file.Data, "levels", "categories", "scale") is { } l
            ? Input.List(l, "levels")
            : ratings.Levels();
        var both = Figures(FleissKappa.Of(FleissKappa.Counts(ratings, levels)));
        both["light_kappa"] = Json.Try(() =>
            Json.Number(FleissKappa.Light(ratings, WeightKind.Identity, levels))
        );
        both["conger_exact_kappa"] = Json.Try(() => Json.Number(FleissKappa.Conger(ratings, levels)));
        return new CaseResult(both, label => Named(label, both));
    }

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

    /// <summary>Ratings as a table of rows, or an object with a list each rater.</summary>
    internal static RatingMatrix Ratings(JsonNode? node) =>
        node is JsonObject o
            ? RatingMatrix.FromColumns([.. o.Select(p => Input.Gappy(p.Value, "rater " + p.Key))])
            : Input.Matrix(node, "ratings");

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
