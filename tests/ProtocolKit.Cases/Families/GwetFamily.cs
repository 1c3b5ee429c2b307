using System.Text.Json.Nodes;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Gwet's coefficients from ratings with gaps, counts, or a table of two raters.</summary>
internal static class GwetFamily
{
    public static CaseResult Compute(CaseFile asked)
    {
        var file = asked.WithNumberedCategories();
        var kind = KappaFamily.WeightsOf(file, WeightKind.Identity);
        if (
            Input
                .Tables(file.Data)
                .FirstOrDefault(t => t.Key.StartsWith("table", StringComparison.Ordinal))
                .Value is
            { } node
        )
        {
            return OfTable(file, AgreementTable.FromCounts(Input.Table(node, "table"), Levels(file)), kind);
        }

        if (Input.First(file.Data, "counts_subject_by_category", "counts") is { } countsNode)
        {
            var counts = Input.Table(countsNode, "counts");
            var levels = Levels(file) ?? [.. Enumerable.Range(1, counts[0].Length).Select(i => (double)i)];
            var gwet = GwetAgreement.Of(counts, kind.For(levels), file.Confidence);
            var figures = new JsonObject
            {
                ["gwet"] = Coefficients(gwet),
                ["fleiss"] = Json.Try(() => FleissFamily.Figures(FleissKappa.Of(counts))),
            };
            return new CaseResult(figures, label => Named(label, gwet, false, null));
        }

        var ratings = RatingTables.Of(file.Data);
        var declared = Levels(file) ?? ratings.Levels();
        var raw = GwetAgreement.Of(
            FleissKappa.Counts(ratings, declared),
            kind.For(declared),
            file.Confidence
        );
        return new CaseResult(Coefficients(raw), label => Named(label, raw, false, null));
    }

    private static double[]? Levels(CaseFile file) =>
        Input.First(file.Data, "levels", "categories", "scale") is { } l
        && Input.NumberOrNull(((JsonArray)l)[0]) is not null
            ? Input.List(l, "levels")
            : null;

    private static CaseResult OfTable(CaseFile file, AgreementTable table, CaseWeights kind)
    {
        var weights = kind.For(table.Levels);

        // Kappa's weights go by the positions of the categories, Gwet's by their values.
        var byPosition = kind.For([.. Enumerable.Range(1, table.Size).Select(i => (double)i)]);
        var gwet = GwetAgreement.Of(table, weights, file.Confidence);
        var figures = new JsonObject
        {
            ["gwet"] = Coefficients(gwet),
            ["kappa"] = Json.Try(() =>
                KappaFamily.Kappa(CohenKappa.Of(table, byPosition, file.Confidence), !kind.IsIdentity)
            ),
            ["se_table_form_n"] = Json.Object(
                ("AC1", gwet.Ac().StandardErrorWithN),
                ("fleiss_general", gwet.Fleiss().StandardErrorWithN),
                ("brennan_prediger", gwet.BrennanPrediger().StandardErrorWithN),
                ("percent_agreement", gwet.Percent().StandardErrorWithN)
            ),
        };
        return new CaseResult(
            figures,
            label => Named(label, gwet, true, CohenKappa.Of(table, byPosition, file.Confidence))
        );
    }

    private static JsonObject Coefficients(GwetAgreement gwet)
    {
        var percent = gwet.Percent();
        return new JsonObject
        {
            ["AC1"] = Json.Try(() => Coefficient(gwet.Ac())),
            ["AC2"] = Json.Try(() => Coefficient(gwet.Ac())),
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
