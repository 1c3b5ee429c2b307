using System.Text.Json.Nodes;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Gwet's coefficients from ratings with gaps, counts, or a table of two raters.</summary>
internal static class GwetFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var kind = (string?)file.Options["weights"] is { } w ? KappaFamily.WeightOf(w) : WeightKind.Identity;
        if (file.Data["table"] is { } node)
        {
            return OfTable(file, AgreementTable.FromCounts(Input.Table(node, "table"), Levels(file)), kind);
        }

        if (Input.First(file.Data, "counts_subject_by_category", "counts") is { } countsNode)
        {
            var counts = Input.Table(countsNode, "counts");
            var levels = Levels(file) ?? [.. Enumerable.Range(1, counts[0].Length).Select(i => (double)i)];
            var gwet = GwetAgreement.Of(counts, AgreementWeights.For(kind, levels), file.Confidence);
            var figures = new JsonObject
            {
                ["gwet"] = Coefficients(gwet),
                ["fleiss"] = Json.Try(() => FleissFamily.Figures(FleissKappa.Of(counts))),
            };
            return new CaseResult(figures, label => Named(label, gwet, false, null));
        }

        var ratings = FleissFamily.Ratings(Input.First(file.Data, "ratings", "values"));
        var raw = GwetAgreement.Of(ratings, kind, Levels(file), file.Confidence);
        return new CaseResult(Coefficients(raw), label => Named(label, raw, false, null));
    }

    private static double[]? Levels(CaseFile file) =>
        Input.First(file.Data, "levels", "categories", "scale") is { } l
        && Input.NumberOrNull(((JsonArray)l)[0]) is not null
            ? Input.List(l, "levels")
            : null;

    private static CaseResult OfTable(CaseFile file, AgreementTable table, WeightKind kind)
    {
        var gwet = GwetAgreement.Of(table, kind, file.Confidence);
        var figures = new JsonObject
        {
            ["gwet"] = Coefficients(gwet),
            ["kappa"] = KappaFamily.Kappa(table, kind, file.Confidence),
            ["se_table_form_n"] = Json.Object(
                ("AC1", gwet.Ac().StandardErrorWithN),
                ("fleiss_general", gwet.Fleiss().StandardErrorWithN),
                ("brennan_prediger", gwet.BrennanPrediger().StandardErrorWithN),
                ("percent_agreement", gwet.Percent().StandardErrorWithN)
            ),
        };
        return new CaseResult(
            figures,
            label => Named(label, gwet, true, CohenKappa.Of(table, kind, file.Confidence))
        );
    }

    private static JsonObject Coefficients(GwetAgreement gwet)
    {
        var percent = gwet.Percent();
        return new JsonObject
        {
            ["AC1"] = Json.Try(() => Coefficient(gwet.Ac())),
            ["fleiss_general"] = Json.Try(() => Coefficient(gwet.Fleiss())),
            ["brennan_prediger"] = Json.Try(() => Coefficient(gwet.BrennanPrediger())),
            ["percent_agreement"] = Json.Object(("coef", percent.Coefficient), ("se", percent.StandardError))
                .With(("ci", Json.Pair(percent.Interval))),
        };
    }

    private static JsonObject Coefficient(AgreementCoefficient c) =>
        Json.Object(("coef", c.Coefficient), ("se", c.StandardError), ("pa", c.Observed), ("pe", c.Expected))
            .With(("ci", Json.Pair(c.Interval)));

    /// <summary>"AC1", "AC1 se", "Fleiss pe" … Tables print the error with n, ratings and counts with n − 1.</summary>
    private static JsonNode? Named(string label, GwetAgreement gwet, bool table, KappaResult? kappa)
    {
        var words = label.Split(' ');
        if (words[0] == "kappa" && kappa is not null)
        {
            return Json.Number(
                words.Length == 1 ? kappa.Kappa
                : words[1] == "se" ? kappa.StandardError
                : null
            );
        }

        var c = words[0].ToUpperInvariant() switch
        {
            "AC1" or "AC2" or "GWET" => gwet.Ac(),
            "FLEISS" or "SCOTT" or "PI" => gwet.Fleiss(),
            "BP" or "BRENNAN-PREDIGER" => gwet.BrennanPrediger(),
            "PA" => gwet.Percent(),
            _ => null,
        };
        return c is null
            ? null
            : Json.Number(
                words.ElementAtOrDefault(1) switch
                {
                    null => c.Coefficient,
                    "se" => table ? c.StandardErrorWithN : c.StandardError,
                    "pa" => c.Observed,
                    "pe" => c.Expected,
                    "ci_low" or "low" => c.Interval.Low,
                    "ci_high" or "high" => c.Interval.High,
                    _ => null,
                }
            );
    }
}
