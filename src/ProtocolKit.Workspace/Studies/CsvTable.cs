using Sylvan.Data.Csv;

namespace ProtocolKit.Workspace.Studies;

/// <summary>A table as text: the names of its columns and its rows.</summary>
/// <param name="Rows">With the number of the row in the file, the head being row 1.</param>
internal sealed record CsvTable(
    string Name,
    IReadOnlyList<string> Columns,
    IReadOnlyList<(int Number, IReadOnlyList<string> Cells)> Rows
)
{
    /// <summary>Reads comma, semicolon or tab separated text (RFC 4180); a byte order mark is taken.</summary>
    /// <exception cref="StudyDataException">It is no such table.</exception>
    public static CsvTable Parse(string text, string name)
    {
        text = text.TrimStart('\uFEFF');
        if (string.IsNullOrWhiteSpace(text))
        {
            throw new StudyDataException($"{name} is empty: there is no row of column names.");
        }

        try
        {
            return Parse(new StringReader(text), name);
        }
        catch (CsvFormatException broken)
        {
            throw new StudyDataException(
                $"{name}, row {broken.RowNumber + 1}: this is no comma-separated table ({broken.Message}). "
                    + "Look for a quotation mark that is never closed.",
                broken
            );
        }
    }

    private static CsvTable Parse(StringReader text, string name)
    {
        var options = new CsvDataReaderOptions { HasHeaders = false };
        using var reader = CsvDataReader.Create(text, options);
        IReadOnlyList<string>? columns = null;
        var rows = new List<(int, IReadOnlyList<string>)>();
        var number = 0;
        while (reader.Read())
        {
            number++;
            var cells = Enumerable
                .Range(0, reader.RowFieldCount)
                .Select(i => reader.GetString(i).Trim())
                .ToList();
            if (columns is null)
            {
                columns = cells;
            }
            else if (cells.Any(c => c.Length > 0))
            {
                rows.Add((number, Fit(cells, columns.Count, name, number)));
            }
        }

        return new CsvTable(name, columns ?? [], rows);
    }

    private static List<string> Fit(List<string> cells, int count, string name, int row)
    {
        if (cells.Count > count)
        {
            throw new StudyDataException(
                $"{name}, row {row}: it has {cells.Count} cells, and there are {count} columns. "
                    + "Look for a comma too many, or put quotation marks around a text that holds one."
            );
        }

        cells.AddRange(Enumerable.Repeat("", count - cells.Count));
        return cells;
    }
}

/// <summary>The data of a study can't be read at all; the message says where, what and how to mend it.</summary>
public sealed class StudyDataException : Exception
{
    public StudyDataException() { }

    public StudyDataException(string message)
        : base(message) { }

    public StudyDataException(string message, Exception inner)
        : base(message, inner) { }
}
