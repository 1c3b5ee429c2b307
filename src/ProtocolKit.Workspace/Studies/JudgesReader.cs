using ProtocolKit.Model;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Workspace.Studies;

/// <summary>
/// Reads what judges say about a child just at the edge: a table with the columns judge, score, item, expected (Angoff), or
/// judge, score, lowest-cut, highest-cut, lowest-share, highest-share (Hofstee), or all of them with blanks.
/// </summary>
public static class JudgesReader
{
    private static readonly string[] Known =
    [
        "judge",
        "score",
        "item",
        "expected",
        "lowest-cut",
        "highest-cut",
        "lowest-share",
        "highest-share",
    ];

    /// <exception cref="StudyDataException">A column, score or number is not right; the message says which.</exception>
    public static StudyData Add(StudyData data, string path)
    {
        ArgumentNullException.ThrowIfNull(data);
        var table = CsvTable.Parse(TextFile.Read(path), Path.GetFileName(path));
        if (table.Columns.Except(Known).ToList() is { Count: > 0 } unknown)
        {
            throw new StudyDataException(
                $"{table.Name} has columns no study reads: {string.Join(", ", unknown)}. It takes {string.Join(", ", Known)}."
            );
        }

        var expected = new List<ExpectedPoints>();
        var limits = new List<AcceptableLimits>();
        foreach (var (number, cells) in table.Rows)
        {
            var row = new Row(table, number, cells);
            var (judge, score) = (row.Needed("judge"), row.Needed("score"));
            if (!data.Protocol.Outcomes.Any(o => o.Name == score))
            {
                throw row.Wrong($"\"{score}\" is no measure or score of this protocol");
            }

            if (row.Text("item").Length > 0)
            {
                expected.Add(new ExpectedPoints(judge, score, row.Text("item"), row.Number("expected")));
            }
            else
            {
                limits.Add(
                    new AcceptableLimits(
                        judge,
                        score,
                        row.Number("lowest-cut"),
                        row.Number("highest-cut"),
                        row.Number("lowest-share"),
                        row.Number("highest-share")
                    )
                );
            }
        }

        return data with
        {
            Expected = expected,
            Limits = limits,
        };
    }

    private sealed class Row(CsvTable table, int number, IReadOnlyList<string> cells)
    {
        public string Text(string column)
        {
            var at = table.Columns.ToList().IndexOf(column);
            return at < 0 ? "" : cells[at];
        }

        public string Needed(string column) =>
            Text(column) is { Length: > 0 } text ? text : throw Wrong($"there is nothing under {column}");

        public Rational Number(string column) =>
            Rational.TryParse(Text(column), out var value)
                ? value
                : throw Wrong($"{column} is {JudgementColumns.Quote(Text(column))}, which is no number");

        public StudyDataException Wrong(string what) => new($"{table.Name}, row {number}: {what}.");
    }
}
