using System.Globalization;
using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Accuracy;

namespace ProtocolKit.Cases.Families;

/// <summary>Intervals of one proportion, of a difference of two, and of a paired difference.</summary>
internal static class ProportionFamily
{
    private static readonly IReadOnlyList<(
        string Name,
        Func<double, double, double, Interval> Method
    )> Methods =
    [
        ("1 Wald", ProportionIntervals.Wald),
        ("2 Wald with continuity correction", ProportionIntervals.WaldCorrected),
        ("3 Wilson score", ProportionIntervals.Wilson),
        ("4 Wilson score with continuity correction", ProportionIntervals.WilsonCorrected),
        ("5 Clopper-Pearson exact", ProportionIntervals.ClopperPearson),
        ("6 mid-P", ProportionIntervals.MidP),
        ("7 likelihood", ProportionIntervals.Likelihood),
        ("Agresti-Coull", ProportionIntervals.AgrestiCoull),
        ("Jeffreys", ProportionIntervals.Jeffreys),
        ("Wald", ProportionIntervals.Wald),
        ("Wilson", ProportionIntervals.Wilson),
        ("Clopper-Pearson", ProportionIntervals.ClopperPearson),
        ("mid-P", ProportionIntervals.MidP),
        ("likelihood", ProportionIntervals.Likelihood),
    ];

    public static CaseResult Compute(CaseFile file)
    {
        var (name, node) = Input.Tables(file.Data).FirstOrDefault();
        var rows = Input.Table(node, name ?? "cases");
        var paired =
            name == "rows_e_f_g_h" || file.Method.Contains("paired", StringComparison.OrdinalIgnoreCase);
        var figures = new JsonObject();
        foreach (var row in rows)
        {
            var (key, entry) =
                row.Length == 2 ? One(row, file)
                : paired ? Paired(row, file)
                : Difference(row, file);
            figures[key] = entry;
        }

        return new CaseResult(figures, label => Named(label, figures));
    }

    private static (string Key, JsonNode? Entry) One(double[] row, CaseFile file)
    {
        var key = $"{Text(row[0])}/{Text(row[1])}";
        var asked =
            file.Requested() is JsonObject o && o[key] is JsonObject methods
                ? methods.Select(m => m.Key).ToHashSet()
                : null;
        var entry = new JsonObject();
        foreach (var (name, method) in Methods.Where((m, i) => asked?.Contains(m.Name) ?? i < 9))
        {
            entry[name] = Json.Try(() => Json.Pair(method(row[0], row[1], file.Confidence)));
        }

        return (key, entry);
    }

    private static (string Key, JsonNode? Entry) Difference(double[] r, CaseFile file) =>
        (
            $"{Text(r[0])}/{Text(r[1])} - {Text(r[2])}/{Text(r[3])}",
            Json.Try(() =>
                Json.Pair(ProportionDifferences.Independent(r[0], r[1], r[2], r[3], file.Confidence))
            )
        );

    private static (string Key, JsonNode? Entry) Paired(double[] r, CaseFile file) =>
        (
            string.Join(',', r.Select(Text)),
            new JsonObject
            {
                ["method8"] = Json.Try(() =>
                    Json.Pair(
                        ProportionDifferences.PairedUncorrected(r[0], r[1], r[2], r[3], file.Confidence)
                    )
                ),
                ["method10"] = Json.Try(() =>
                    Json.Pair(ProportionDifferences.Paired(r[0], r[1], r[2], r[3], file.Confidence))
                ),
            }
        );

    /// <summary>"81/263 3 Wilson score low", "9/10 - 3/10 high", "36,12,2,0 m8 low".</summary>
    private static JsonNode? Named(string label, JsonObject figures)
    {
        var side =
            label.Contains(" high", StringComparison.Ordinal) ? 1
            : label.Contains(" low", StringComparison.Ordinal) ? 0
            : -1;
        if (side < 0)
        {
            return null;
        }

        var stem = label[..label.LastIndexOf(side == 1 ? " high" : " low", StringComparison.Ordinal)];
        var (key, entry) = figures
            .Where(f => stem == f.Key || stem.StartsWith(f.Key + " ", StringComparison.Ordinal))
            .OrderByDescending(f => f.Key.Length)
            .FirstOrDefault();
        if (key is null)
        {
            return null;
        }

        var method = stem[key.Length..].Trim();
        method =
            method is "m8" ? "method8"
            : method is "m10" or "" && entry is JsonObject ? "method10"
            : method;
        var pair = entry is JsonObject o ? o[method] ?? Single(key, method) : entry;
        return pair is JsonArray a ? a[side] : null;
    }

    private static JsonNode? Single(string key, string method)
    {
        var known = Methods
            .FirstOrDefault(m => m.Name.Contains(method, StringComparison.OrdinalIgnoreCase))
            .Method;
        var parts = key.Split('/');
        return known is null || parts.Length != 2
            ? null
            : Json.Pair(
                known(
                    double.Parse(parts[0], CultureInfo.InvariantCulture),
                    double.Parse(parts[1], CultureInfo.InvariantCulture),
                    0.95
                )
            );
    }

    private static string Text(double value) => value.ToString(CultureInfo.InvariantCulture);
}
