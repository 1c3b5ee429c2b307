using System.Text.Json.Nodes;
using ProtocolKit.Calibration;

namespace ProtocolKit.Cases;

/// <summary>
/// What may stand under options. A name no method knows is never passed over in silence: the answer says that it wasn't used.
/// A known one with a value nothing here does is refused.
/// </summary>
internal static class Options
{
    /// <summary>Names that set something, and names under which cases write out the convention they were computed by.</summary>
    private static readonly HashSet<string> Known = new(
        (
            "confidence level conf_level missing weights metric cut cut_raw cuts true_cut true_cuts lambda n_items reliability "
            + "min max direction difference multiplier factors higher_is_better statistic resamples seed HB LL design estimator "
            + "model form partial_area threshold_convention kr21 KR21 alpha "
            + "LR_CI DOR_CI k_for_averages extraction rotation SE rule line borrow30 calendar_strict_day "
            + "calendar_clamped_month_end dateutil_relativedelta acceleration percentile_rule truncate order z "
            + "stanine_boundary effective_length_rounding threshold failsafe master"
        )
            .Split(' ')
            .Append("fail curve"),
        StringComparer.Ordinal
    );

    private static readonly Dictionary<string, string[]> Choices = new(StringComparer.Ordinal)
    {
        ["missing"] = ["none", "listwise", "pairwise", "available", "ignore"],
        ["metric"] = ["nominal", "ordinal", "interval", "ratio"],
    };

    /// <exception cref="NotEstimableException">A value that no method here has.</exception>
    public static void Check(JsonObject options)
    {
        foreach (var (name, allowed) in Choices)
        {
            if (
                options[name] is { } value
                && !allowed.Contains(value.ToString(), StringComparer.OrdinalIgnoreCase)
            )
            {
                throw new NotEstimableException(
                    $"The option \"{name}\" may be {string.Join(", ", allowed)}; \"{value}\" is not known."
                );
            }
        }
    }

    /// <summary>The names nothing here knows, each with a sentence; null where there are none.</summary>
    public static JsonObject? Refused(CaseFile file)
    {
        var unknown = file
            .Options.Where(o => !Known.Contains(o.Key) && !file.UsedOptions.Contains(o.Key))
            .Select(o =>
                KeyValuePair.Create(
                    o.Key,
                    (JsonNode?)
                        $"No option \"{o.Key}\" is known for \"{file.Method}\"; the figures are computed without it."
                )
            )
            .ToList();
        return unknown.Count > 0 ? new JsonObject(unknown) : null;
    }
}
