using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Krippendorff's alpha under four metrics, with the coincidences behind it.</summary>
internal static class KrippendorffFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var (name, table) = Input.Tables(file.Data).FirstOrDefault();
        if (name is null)
        {
            throw new NotEstimableException(
                "Krippendorff's alpha needs a table of values, a row each observer."
            );
        }

        var rows = ((JsonArray)table!)
            .Select((r, i) => (IReadOnlyList<double?>)Input.Gappy(r, $"row {i + 1}"))
            .ToList();
        var unitsInRows = (string?)file.Data["rows_are"] is "units" or "subjects";
        var alpha = KrippendorffAlpha.Of(
            unitsInRows ? RatingMatrix.FromRows(rows) : RatingMatrix.FromColumns(rows)
        );
        var figures = new JsonObject();
        foreach (var metric in Enum.GetValues<AlphaMetric>())
        {
            figures[Key(metric)] = Json.Try(() => Json.Number(alpha.Alpha(metric)));
        }

        var coincidences = alpha.Coincidences();
        figures["coincidence_matrix"] = Json.Rows(coincidences.Matrix);
        figures["n_c"] = Json.Numbers(coincidences.Totals);
        figures["n_pairable_values"] = coincidences.Pairable;
        var main = (string?)file.Options["metric"] ?? "nominal";
        return new CaseResult(
            figures,
            label =>
                label == "alpha"
                    ? figures[main]
                    : figures.FirstOrDefault(f => label.StartsWith(f.Key, StringComparison.Ordinal)).Value
        );
    }

    private static string Key(AlphaMetric metric) =>
        metric switch
        {
            AlphaMetric.Nominal => "nominal",
            AlphaMetric.Ordinal => "ordinal",
            AlphaMetric.Interval => "interval",
            _ => "ratio",
        };
}
