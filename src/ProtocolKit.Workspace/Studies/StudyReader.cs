using System.Globalization;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Workspace.Studies;

/// <summary>
/// Reads the records of a study: a table with one row a record, or a folder of record files with the reference
/// judgements in a table of their own. Rows that can't be read are listed and left out; a table whose columns are
/// wrong, or hold names, is refused whole.
/// </summary>
public static class StudyReader
{
    private static readonly string[] RecordEndings = [".yaml", ".yml", ".json"];

    /// <param name="path">A CSV table, or a folder of YAML or JSON records.</param>
    /// <param name="referencePath">A table by case with reference judgements and groups; for records in a folder.</param>
    /// <param name="options">Which other forms are taken, by fingerprint; none by default.</param>
    /// <exception cref="StudyDataException">Nothing can be read; the message says why and how to mend it.</exception>
    /// <exception cref="FileProblemException">A file can't be read.</exception>
    public static StudyData Read(
        Protocol protocol,
        string path,
        string? referencePath = null,
        RecordOptions? options = null
    )
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(path);
        var rows = new StudyRows(protocol, options ?? new RecordOptions());
        if (Directory.Exists(path))
        {
            ReadFolder(rows, path);
        }
        else
        {
            ReadTable(rows, CsvTable.Parse(TextFile.Read(path), Path.GetFileName(path)), protocol);
        }

        if (referencePath is not null)
        {
            rows.AddReference(CsvTable.Parse(TextFile.Read(referencePath), Path.GetFileName(referencePath)));
        }

        return rows.Finish(Path.GetFileName(Path.TrimEndingDirectorySeparator(path)));
    }

    private static void ReadFolder(StudyRows rows, string folder)
    {
        var files = Directory
            .EnumerateFiles(folder)
            .Where(f => RecordEndings.Contains(Path.GetExtension(f), StringComparer.OrdinalIgnoreCase))
            .Order(StringComparer.Ordinal)
            .ToList();
        if (files.Count == 0)
        {
            throw new StudyDataException(
                $"{folder} holds no records. Records end in .yaml or .json; a table is named by its file."
            );
        }

        files.ForEach(f => rows.AddFile(Path.GetFileName(f), TextFile.Read(f)));
    }

    private static void ReadTable(StudyRows rows, CsvTable table, Protocol protocol)
    {
        var problems = TableColumns.Check(table.Columns, table.Name, 1, protocol, JudgementColumns.All);
        if (problems.Count > 0)
        {
            throw new StudyDataException(
                string.Join('\n', problems)
                    + $"\nThe columns of {table.Name} are not right, so no row was read."
            );
        }

        if (table.Rows.Count == 0)
        {
            throw new StudyDataException($"{table.Name} has column names and no rows.");
        }

        foreach (var (number, cells) in table.Rows)
        {
            rows.AddRow(table, number, cells);
        }

        TellEditions(rows, table);
    }

    private static void TellEditions(StudyRows rows, CsvTable table)
    {
        var column = table.Columns.ToList().IndexOf(RecordKeys.Edition);
        var editions =
            column < 0
                ? []
                : table
                    .Rows.GroupBy(r => r.Cells[column])
                    .OrderBy(g => g.Key, StringComparer.Ordinal)
                    .ToList();
        if (editions.Count > 1)
        {
            var list = editions.Select(e =>
                string.Create(CultureInfo.InvariantCulture, $"{e.Count()} of edition {e.Key}")
            );
            rows.Remark(
                $"The table mixes editions: {string.Join(", ", list)}. Editions are never pooled unasked."
            );
        }
    }
}
