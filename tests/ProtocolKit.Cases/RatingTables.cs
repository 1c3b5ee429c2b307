using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases;

/// <summary>Ratings in the layouts of cases: rows of subjects, rows of raters (where "rows_are" says so), or a list each rater.</summary>
internal static class RatingTables
{
    private static readonly string[] Raters =
    [
        "raters",
        "judges",
        "observers",
        "coders",
        "methods",
        "examiners",
        "items",
        "trials",
        "occasions",
    ];

    private static readonly string[] Names =
    [
        "ratings",
        "values",
        "ranks",
        "scores",
        "rows_persons",
        "items",
    ];

    /// <summary>The ratings of a case, a row each subject.</summary>
    /// <param name="rowsAre">What rows are where the case doesn't say it.</param>
    /// <exception cref="NotEstimableException">The data hold no table of ratings.</exception>
    public static RatingMatrix Of(JsonNode data, string rowsAre = "subjects")
    {
        var node =
            Input.First(data, Names)
            ?? Input.Tables(data).FirstOrDefault().Value
            ?? (data as JsonObject)?.FirstOrDefault(p => IsLists(p.Value)).Value
            ?? (IsLists(data) ? data : null)
            ?? throw new NotEstimableException("A table of ratings is needed.");
        var rows = Input.First(data, "rows_are")?.ToString() ?? rowsAre;
        return node is JsonObject lists
            ? RatingMatrix.FromColumns([
                .. lists
                    .Where(p => Input.IsList(p.Value))
                    .Select(p => Input.Gappy(p.Value, "rater " + p.Key)),
            ])
            : Turned(node, Raters.Contains(rows));
    }

    private static RatingMatrix Turned(JsonNode node, bool raters) =>
        !raters ? Input.Matrix(node, "ratings")
        : node is JsonArray rows && Input.IsTable(node)
            ? RatingMatrix.FromColumns([.. rows.Select((r, i) => Input.Gappy(r, $"row {i + 1}"))])
        : throw new NotEstimableException("A table of ratings is needed.");

    private static bool IsLists(JsonNode? node) =>
        node is JsonObject { Count: > 1 } o
        && o.All(p => Input.IsList(p.Value) && p.Value is JsonArray { Count: > 1 });
}
