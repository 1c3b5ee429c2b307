using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace ProtocolKit.Calibration.Tests;

/// <summary>A published figure against ours, at the digits that were printed.</summary>
internal static class Published
{
    /// <summary>Null where they agree. Where the check records that print and recomputation differ, the recomputed figure counts.</summary>
    public static string? Difference(string id, string label, JsonNode? expected, JsonNode? actual)
    {
        if (actual is not JsonValue v || v.GetValueKind() != JsonValueKind.Number)
        {
            return $"{label}: no figure, but {actual?.ToJsonString() ?? "null"}";
        }

        var got = Comparison.Number(v);
        var printed = (string)expected!["published"]!;
        var agrees = (bool?)expected["agrees_at_published_digits"];
        var recomputed = expected["recomputed"];
        if (Tolerances.OfDraws(id, label) is { } near)
        {
            return Math.Abs(double.Parse(printed, CultureInfo.InvariantCulture) - got) <= near
                ? null
                : $"{label}: {printed}, got {got}";
        }

        if (agrees == false)
        {
            return Math.Abs(Comparison.Number(recomputed!) - got) <= 1e-8 * Math.Abs(got)
                ? null
                : $"{label}: recomputed {recomputed}, got {got}";
        }

        // Half a unit of the last printed digit, and a little for the printing's own rounding of long figures.
        var decimals = printed.Contains('.', StringComparison.Ordinal) ? printed.Split('.')[1].Length : 0;
        var unit = Math.Pow(10, -decimals);
        var room =
            decimals > 11 ? 1e-11 * Math.Max(1, Math.Abs(got))
            : decimals > 5 ? unit * 5
            : unit * 0.5000001;
        return Math.Abs(double.Parse(printed, CultureInfo.InvariantCulture) - got) <= room
            ? null
            : string.Create(CultureInfo.InvariantCulture, $"{label}: published {printed}, got {got}");
    }
}
