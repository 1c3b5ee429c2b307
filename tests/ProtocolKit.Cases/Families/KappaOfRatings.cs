using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Kappa of ratings not yet counted: two lists, or rows of two; over observed and over declared levels.</summary>
internal static class KappaOfRatings
{
    public static JsonObject TwoLists(JsonNode? first, JsonNode? second, CaseFile file)
    {
        return TwoLists(Input.Gappy(first, "first rater"), Input.Gappy(second, "second rater"), file);
    }

    private static JsonObject TwoLists(double?[] a, double?[] b, CaseFile file)
    {
        var observed = AgreementTable.FromPairs(a, b);
        var figures = new JsonObject
        {
            ["observed_categories_only"] = WithTable(observed, file.Confidence, true),
        };
        if (Input.First(file.Data, "scale", "levels", "categories") is { } scale)
        {
            var levels = Input.List(scale, "levels");
            var words = new[] { "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten" };
            var name = levels.Length is >= 2 and <= 10
                ? $"all_{words[levels.Length - 2]}_categories"
                : "all_categories";
            figures[name] = WithTable(AgreementTable.FromPairs(a, b, levels), file.Confidence, false);
        }

        return figures;
    }

    private static JsonObject WithTable(AgreementTable table, double confidence, bool categories)
    {
        var figures = new JsonObject();
        if (categories)
        {
            figures["categories"] = Json.Numbers(table.Levels);
        }

        figures["table"] = Json.Rows(
            Enumerable
                .Range(0, table.Size)
                .Select(i => Enumerable.Range(0, table.Size).Select(j => table[i, j]))
        );
        foreach (var (key, value) in KappaFamily.ThreeWeights(table, confidence, ""))
        {
            figures[key] = value?.DeepClone();
        }

        return figures;
    }

    public static JsonNode? IrrLabel(string label, List<KeyValuePair<string, JsonNode?>> lists, CaseFile file)
    {
        var table = AgreementTable.FromPairs(
            Input.Gappy(lists[0].Value, "first rater"),
            Input.Gappy(lists[1].Value, "second rater")
        );
        return KappaFamily.Named(label.Replace("irr ", "", StringComparison.Ordinal), table, file.Confidence);
    }

    /// <summary>A label about pairs of ratings, over the declared levels where there are any.</summary>
    public static JsonNode? PairsLabel(string label, JsonArray rows, CaseFile file)
    {
        var pairs = rows.Select((r, i) => Input.Gappy(r, $"row {i + 1}")).ToList();
        double[]? levels = Input.First(file.Data, "levels", "scale", "categories") is { } node
            ? Input.List(node, "levels")
            : null;
        var table = AgreementTable.FromPairs(
            [.. pairs.Select(p => p[0])],
            [.. pairs.Select(p => p.Length > 1 ? p[1] : null)],
            levels
        );
        return KappaFamily.Named(label, table, file.Confidence);
    }

    /// <summary>Rows of two ratings each: over the levels that occur, and over all from 1 (or the lowest) to the highest.</summary>
    public static JsonObject Pairs(JsonArray rows, CaseFile file)
    {
        var pairs = rows.Select((r, i) => Input.Gappy(r, $"row {i + 1}")).ToList();
        if (pairs.Any(p => p.Length != 2))
        {
            throw new NotEstimableException("Cohen's kappa is for two raters: every row needs two ratings.");
        }

        var (a, b) = (pairs.Select(p => p[0]).ToArray(), pairs.Select(p => p[1]).ToArray());
        var observed = AgreementTable.FromPairs(a, b);
        var kind = KappaFamily.WeightsOf(file, WeightKind.Quadratic);
        var declared = Input.First(file.Data, "levels", "scale", "categories") is { } levels
            ? Input.List(levels, "levels")
            :
            [
                .. Enumerable
                    .Range(
                        (int)Math.Min(1, observed.Levels[0]),
                        (int)(observed.Levels[^1] - Math.Min(1, observed.Levels[0])) + 1
                    )
                    .Select(i => (double)i),
            ];
        var all = AgreementTable.FromPairs(a, b, declared);
        var figures = Json.Object(
            ("obs_kappa", CohenKappa.Of(observed).Kappa),
            ("obs_w", Weighted(observed)),
            ("all_kappa", CohenKappa.Of(all).Kappa),
            ("all_w", Weighted(all))
        );
        foreach (var (key, value) in TwoLists(a, b, file))
        {
            figures[key] = value?.DeepClone();
        }

        foreach (var (key, value) in KappaFamily.ThreeWeights(all, file.Confidence))
        {
            figures[key] = value?.DeepClone();
        }

        return figures;

        // Own weights are a table over the declared levels: nothing can be weighted over others.
        double? Weighted(AgreementTable table) =>
            kind.Fits(table.Size) ? CohenKappa.Of(table, kind.For(Positions(table))).Kappa : null;

        static double[] Positions(AgreementTable table) =>
            [.. Enumerable.Range(1, table.Size).Select(i => (double)i)];
    }
}
