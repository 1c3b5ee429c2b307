using System.Globalization;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Studies;

/// <summary>A table of a study as CSV (RFC 4180): figures in full precision, intervals in two columns.</summary>
public static class StudyTables
{
    public static string Csv(EvidenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var text = new StringBuilder();
        var heads = table.Columns.SelectMany(c =>
            c.IsInterval ? new[] { $"{c.Name}-low", $"{c.Name}-high" } : [c.Name]
        );
        text.AppendJoin(',', heads.Select(Quote)).Append('\n');
        foreach (var row in table.Rows)
        {
            text.AppendJoin(',', table.Columns.SelectMany((c, i) => Cells(c, row[i])).Select(Quote))
                .Append('\n');
        }

        return text.ToString();
    }

    private static string[] Cells(EvidenceColumn column, EvidenceCell cell) =>
        column.IsInterval ? [Figure(cell.Low), Figure(cell.High)]
        : cell.Value is { } value ? [Figure(value)]
        : [cell.Text];

    private static string Figure(double? value) =>
        value is { } number ? number.ToString("R", CultureInfo.InvariantCulture) : "";

    /// <summary>A text that a spreadsheet would take for a formula gets an apostrophe before it.</summary>
    private static string Quote(string text)
    {
        var isNumber = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _);
        var isFormula =
            !isNumber && text.Length > 0 && "=+-@\t\r".Contains(text[0], StringComparison.Ordinal);
        var safe = isFormula ? "'" + text : text;
        return safe.AsSpan().IndexOfAny(",\"\n\r") >= 0
            ? $"\"{safe.Replace("\"", "\"\"", StringComparison.Ordinal)}\""
            : safe;
    }
}
