using System.Globalization;
using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Ages;

namespace ProtocolKit.Cases.Families;

/// <summary>Chronological ages by three rules, and ages corrected for prematurity (borrowed months of 30 days).</summary>
internal static class AgeFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var rows =
            file.Data["rows"] as JsonArray ?? throw new NotEstimableException("Rows of dates are needed.");
        return rows.FirstOrDefault() is JsonObject
            ? new CaseResult(Json.List(rows.Select(r => Json.Try(() => Boundary((JsonObject)r!)))))
            : new CaseResult(
                Json.List(rows.Select(r => Json.Try(() => Corrected((JsonArray)r!, Date(file.Data["test"])))))
            );
    }

    private static JsonObject Boundary(JsonObject row)
    {
        var (born, seen) = (Date(row["birth"]), Date(row["test"]));
        var borrow = ChronologicalAge.Borrow30(born, seen);
        var strict = ChronologicalAge.StrictDay(born, seen);
        var clamped = ChronologicalAge.ClampedMonthEnd(born, seen);
        var figures = (JsonObject)row.DeepClone();
        figures["borrow30"] = Parts(borrow);
        figures["calendar_strict_day"] = Parts(strict);
        figures["calendar_clamped_month_end"] = Parts(clamped);
        figures["dateutil_relativedelta"] = Parts(clamped);
        figures["total_days"] = seen.DayNumber - born.DayNumber;
        figures["complete_months"] = new JsonObject
        {
            ["borrow30"] = borrow.CompleteMonths,
            ["strict"] = strict.CompleteMonths,
            ["clamped"] = clamped.CompleteMonths,
        };
        figures["differs"] = borrow != strict || strict != clamped;
        return figures;
    }

    private static JsonObject Corrected(JsonArray row, DateOnly seen)
    {
        var (born, weeks) = (Date(row[0]), (int)Input.Number(row[1], "gestation weeks"));
        var due = ChronologicalAge.DueDate(born, weeks);
        return new JsonObject
        {
            ["birth"] = Text(born),
            ["gestation_weeks"] = weeks,
            ["test"] = Text(seen),
            ["due_date"] = Text(due),
            ["chronological"] = Parts(ChronologicalAge.ClampedMonthEnd(born, seen)),
            ["corrected"] = Parts(ChronologicalAge.ClampedMonthEnd(due, seen)),
        };
    }

    private static JsonArray Parts(AgeParts a) => new(a.Years, a.Months, a.Days);

    private static string Text(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static DateOnly Date(JsonNode? node) =>
        DateOnly.TryParseExact(
            (string?)node,
            "yyyy-MM-dd",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var date
        )
            ? date
            : throw new NotEstimableException("A date is written as 2024-09-20.");
}
