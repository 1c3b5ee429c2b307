using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Krippendorff's alpha under four metrics, with the coincidences behind it.</summary>
internal static class KrippendorffFamily
{
    public static CaseResult Compute(CaseFile asked)
    {
        var file = asked.WithNumberedCategories();
        var alpha = KrippendorffAlpha.Of(RatingTables.Of(file.Data, "observers"));
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
