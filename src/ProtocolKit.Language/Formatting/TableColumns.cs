using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Formatting;

/// <summary>
/// Tables: lines whose cells two or more spaces split, at least one of them beginning with a number or an age. Cells are put
/// under each other; where one ends and the next begins is never changed.
/// </summary>
internal static class TableColumns
{
    private const int Apart = 2;

    /// <summary>Statements that hold a table also while it has no row yet.</summary>
    private static readonly HashSet<string> Tables = ["cut-offs", "table"];

    /// <summary>False where these lines are no table.</summary>
    /// <param name="word">The word of the statement they stand under.</param>
    public static bool Align(string word, IReadOnlyList<CodeLine> lines)
    {
        var written = lines.Where(l => !l.HasMore).Select(l => (Line: l, Cells: Cells(l))).ToList();
        var isTable = written.Exists(r => r.Cells.Count > 1 && IsRow(r.Line)) || Tables.Contains(word);
        var heading = isTable ? written.FindIndex(r => r.Cells.Count > 1) : -1;
        if (heading < 0)
        {
            return isTable;
        }

        // Behind the heading only rows have cells; a line such as a basis is a sentence.
        List<(CodeLine Line, List<int> Cells)> tabular =
        [
            written[heading],
            .. written
                .Skip(heading + 1)
                .Where(r =>
                    r.Cells.Count > 1 && (IsRow(r.Line) || r.Line.Piece(0) == written[heading].Line.Piece(0))
                ),
        ];

        if (Assigned(tabular) is not { } columns)
        {
            KeepApart(tabular);
            return true;
        }

        var starts = Starts(tabular, columns);
        for (var i = 0; i < tabular.Count; i++)
        {
            Place(tabular[i].Line, tabular[i].Cells, columns[i], starts);
        }

        return true;
    }

    private static bool IsRow(CodeLine line) =>
        line.BeginsWith(TokenKind.Number)
        || line.BeginsWith(TokenKind.Minus)
        || line.BeginsWith(TokenKind.Age);

    /// <summary>The first piece of each cell.</summary>
    private static List<int> Cells(CodeLine line)
    {
        var cells = new List<int> { 0 };
        for (var i = 1; i < line.Tokens.Length; i++)
        {
            if (line.WrittenGap(i) >= Apart)
            {
                cells.Add(i);
            }
        }

        return cells;
    }

    /// <summary>
    /// The column of each cell of each line: in order where a row is complete, else under the heading it stands nearest to.
    /// Null where two cells would share a column.
    /// </summary>
    private static List<int[]>? Assigned(List<(CodeLine Line, List<int> Cells)> rows)
    {
        var heading = rows[0];
        var all = new List<int[]>();
        foreach (var (line, cells) in rows)
        {
            if (cells.Count > heading.Cells.Count)
            {
                return null;
            }

            int[] columns =
                cells.Count == heading.Cells.Count
                    ? [.. Enumerable.Range(0, cells.Count)]
                    : [0, .. cells.Skip(1).Select(c => Nearest(heading, line, c))];
            if (
                columns.Distinct().Count() < columns.Length
                || columns.Zip(columns.Skip(1)).Any(p => p.First > p.Second)
            )
            {
                return null;
            }

            all.Add(columns);
        }

        return all;
    }

    private static int Nearest((CodeLine Line, List<int> Cells) heading, CodeLine line, int piece)
    {
        var at = line.Tokens[piece].Span.Position.Column;
        return 1
            + Enumerable
                .Range(0, heading.Cells.Count - 1)
                .MinBy(i => Math.Abs(heading.Line.Tokens[heading.Cells[i + 1]].Span.Position.Column - at));
    }

    private static int[] Starts(List<(CodeLine Line, List<int> Cells)> rows, List<int[]> columns)
    {
        var widths = new int[rows[0].Cells.Count];
        for (var r = 0; r < rows.Count; r++)
        {
            for (var c = 0; c < columns[r].Length; c++)
            {
                widths[columns[r][c]] = Math.Max(
                    widths[columns[r][c]],
                    Width(rows[r].Line, rows[r].Cells, c)
                );
            }
        }

        var starts = new int[widths.Length];
        for (var i = 1; i < starts.Length; i++)
        {
            starts[i] = starts[i - 1] + widths[i - 1] + Apart;
        }

        return starts;
    }

    private static void Place(CodeLine line, List<int> cells, int[] columns, int[] starts)
    {
        var end = Width(line, cells, 0);
        for (var c = 1; c < cells.Count; c++)
        {
            line.Gaps[cells[c]] = starts[columns[c]] - end;
            end = starts[columns[c]] + Width(line, cells, c);
        }
    }

    private static int Width(CodeLine line, List<int> cells, int cell) =>
        line.WidthOf(cells[cell], cell + 1 < cells.Count ? cells[cell + 1] - 1 : line.Tokens.Length - 1);

    private static void KeepApart(List<(CodeLine Line, List<int> Cells)> rows)
    {
        foreach (var (line, cells) in rows)
        {
            cells.Skip(1).ToList().ForEach(c => line.Gaps[c] = line.WrittenGap(c));
        }
    }
}
