using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using Superpower.Model;

namespace ProtocolKit.Language.Parsing;

/// <summary>Reads a cut-off table: a heading, rows whose cells two or more spaces split, and a basis.</summary>
internal sealed class TableReader(LineReader lines)
{
    private static readonly TokenListParser<TokenKind, NumberSpan> Single = Basic.Literal.Select(
        n => new NumberSpan(n, n)
    );

    private static readonly TokenListParser<TokenKind, CutOffCellValue> Cell = Basic
        .Keyword("none")
        .Select(_ => new CutOffCellValue(null, default))
        .Or(
            (
                from low in Basic.Literal
                from to in Basic.Keyword("to")
                from high in Basic.Literal
                select new NumberSpan(low, high)
            )
                .Try()
                .Or(Single)
                .Select(r => new CutOffCellValue(r, default))
        );

    /// <summary><c>, also with tasks left out</c> after the ages of a row.</summary>
    private static readonly TokenListParser<TokenKind, Word> AlsoWithLeftOut =
        from comma in Basic.Comma
        from also in Basic.Keyword("also")
        from with in Basic.Keyword("with")
        from tasks in Basic.Keyword("tasks")
        from left in Basic.Keyword("left")
        from o in Basic.Keyword("out")
        select also;

    private List<Token<TokenKind>[]> _heading = [];
    private bool _noHeading;

    /// <param name="parent">The table, or the broken statement in its place: its rows are read all the same.</param>
    public void Read(Line line, Statement parent)
    {
        var table = parent as CutOffsBlock;
        foreach (var child in line.Children)
        {
            parent.Incomplete |= !Line(child, table);
            lines.RefuseChildren(child);
        }

        if (line.Children.Count == 0 && table is not null)
        {
            lines.Report(line.Place, LineMessages.NoHeading());
            parent.Incomplete = true;
        }
    }

    private bool Line(Line line, CutOffsBlock? table)
    {
        if (line.First.Is("basis"))
        {
            if (lines.Read(line, RuleLineParsers.Basis) is not BasisLine basis)
            {
                return false;
            }

            table?.Bases.Add(basis);
            return true;
        }

        if (line.First.Is("worse"))
        {
            if (lines.Read(line, RuleLineParsers.WorseOnPurpose) is not WorseOnPurposeLine worse)
            {
                return false;
            }

            table?.Worse.Add(worse);
            return true;
        }

        return line.First.Is("ages") ? Heading(line, table) : Row(line, table);
    }

    private bool Heading(Line line, CutOffsBlock? table)
    {
        _heading = [.. Cells(line).Skip(1)];
        var bands = line.Tokens.Skip(1).ToList();
        if (_heading.Count == 0 || _heading.Exists(c => c.Length > 1))
        {
            if (bands.Count > 0 && bands.TrueForAll(t => t.Kind == TokenKind.Name))
            {
                _heading = [.. bands.Select(t => new[] { t })];
                var instead = "ages  " + string.Join("  ", bands.Select(b => b.ToStringValue()));
                lines.Report(line.Place, LineMessages.HeadingSpaces(instead));
            }
        }

        var names = new List<Word>();
        foreach (var cell in _heading)
        {
            if (cell.Length == 1 && cell[0].Kind == TokenKind.Name)
            {
                names.Add(new Word(cell[0].ToStringValue(), cell[0].Place()));
            }
            else
            {
                lines.Report(
                    cell[0].Place(),
                    LineMessages.NoBand(LineReader.Shorten(lines.Written(cell[0], cell[^1])))
                );
            }
        }

        if (table is not null)
        {
            table.Bands = names;
        }

        return names.Count > 0 && names.Count == _heading.Count;
    }

    private bool Row(Line line, CutOffsBlock? table)
    {
        if (_heading.Count == 0)
        {
            if (!_noHeading)
            {
                lines.Report(line.Place, LineMessages.NoHeading());
            }

            _noHeading = true;
            return false;
        }

        var cells = Cells(line);
        var ages = Basic.Ages.TryParse(new TokenList<TokenKind>(line.Tokens));
        if (!ages.HasValue)
        {
            // Read the row as a whole line for the sake of its message.
            _ = lines.Read(
                new Line(line.Tokens, line.Stray),
                Basic.Ages.Select(a => (Statement)new AgesLine(a))
            );
            return false;
        }

        var isAlso = AlsoWithLeftOut.TryParse(new TokenList<TokenKind>([.. cells[0].Skip(3)]));
        var alsoWithLeftOut = isAlso.HasValue && isAlso.Remainder.IsAtEnd;
        if ((cells[0].Length > 3 && !alsoWithLeftOut) || Place(line, cells) is not { } values)
        {
            SayHowToSplit(line, cells);
            return false;
        }

        table?.Rows.Add(
            new CutOffRowLine(ages.Value, values, alsoWithLeftOut)
            {
                Source = lines.Source,
                Place = line.Place,
            }
        );
        return true;
    }

    /// <summary>Each cell under its heading; headings without a cell hold nothing. Null where the row doesn't fit.</summary>
    private CutOffCellValue[]? Place(Line line, List<Token<TokenKind>[]> cells)
    {
        var values = new CutOffCellValue?[_heading.Count];
        var column = -1;
        foreach (var cell in cells.Skip(1))
        {
            column = cells.Count - 1 == _heading.Count ? column + 1 : Nearest(cell[0]);
            if (cells.Count - 1 > _heading.Count || values[column] is not null)
            {
                return null;
            }

            values[column] = CellOf(cell);
            if (values[column] is null)
            {
                return null;
            }
        }

        var end = line.Last.Place();
        return [.. values.Select(v => v ?? new CutOffCellValue(null, end))];
    }

    /// <summary>
    /// Where only spaces are missing, the row as it must be meant; else the first cell that can't be read, or the number of cells.
    /// </summary>
    private void SayHowToSplit(Line line, List<Token<TokenKind>[]> cells)
    {
        if (cells[0].Length > 3 && cells[0][3].Kind == TokenKind.Comma)
        {
            lines.Report(cells[0][3].Place().To(cells[0][^1].Place()), LineMessages.AfterAges());
        }
        else if (Split(line.Tokens.Skip(3)) is { } split && split.Count == _heading.Count)
        {
            var written = split.Select(c => lines.Written(c[0], c[^1]));
            lines.Report(
                line.Place,
                LineMessages.RowSpaces(
                    $"{lines.Written(line.First, line.Tokens[2])}  {string.Join("  ", written)}"
                )
            );
        }
        else if (cells.Skip(1).Where(c => CellOf(c) is null).ToList() is { Count: > 0 } unreadable)
        {
            foreach (var bad in unreadable)
            {
                var written = lines.Written(bad[0], bad[^1]);
                lines.Report(
                    bad[0].Place().To(bad[^1].Place()),
                    LineMessages.CellUnreadable(LineReader.Shorten(written), RangeIn(bad))
                );
            }
        }
        else
        {
            lines.Report(line.Place, LineMessages.Cells(cells.Count - 1, _heading.Count));
        }
    }

    /// <summary>The pieces of a row cut into cells by what they say, however many spaces there are; null where they say nothing.</summary>
    private static List<Token<TokenKind>[]>? Split(IEnumerable<Token<TokenKind>> tokens)
    {
        var rest = new TokenList<TokenKind>([.. tokens]);
        var cells = new List<Token<TokenKind>[]>();
        while (!rest.IsAtEnd)
        {
            var cell = Cell.TryParse(rest);
            if (!cell.HasValue)
            {
                return null;
            }

            cells.Add([.. rest.Take(cell.Remainder.Position - rest.Position)]);
            rest = cell.Remainder;
        }

        return cells;
    }

    /// <summary><c>3-4</c> as the range it must be meant to be, or null.</summary>
    private static string? RangeIn(Token<TokenKind>[] cell) =>
        cell.Length == 3
        && cell[0].Kind == TokenKind.Number
        && cell[2].Kind == TokenKind.Number
        && cell[1].ToStringValue() is "-" or "–" or "—"
            ? $"{cell[0].ToStringValue()} to {cell[2].ToStringValue()}"
            : null;

    private int Nearest(Token<TokenKind> cell)
    {
        var at = cell.Place().Column;
        return Enumerable.Range(0, _heading.Count).MinBy(i => Math.Abs(_heading[i][0].Place().Column - at));
    }

    private static CutOffCellValue? CellOf(Token<TokenKind>[] cell)
    {
        var place = cell[0].Place().To(cell[^1].Place());
        var result = Cell.TryParse(new TokenList<TokenKind>(cell));
        return result.HasValue && result.Remainder.IsAtEnd ? result.Value with { Place = place } : null;
    }

    /// <summary>The pieces of a line in cells, which two or more spaces split.</summary>
    internal static List<Token<TokenKind>[]> Cells(Line line)
    {
        var cells = new List<Token<TokenKind>[]>();
        var cell = new List<Token<TokenKind>> { line.First };
        for (var i = 1; i < line.Tokens.Length; i++)
        {
            if (line.Tokens[i].Span.Position.Absolute - line.Tokens[i - 1].End() >= 2)
            {
                cells.Add([.. cell]);
                cell.Clear();
            }

            cell.Add(line.Tokens[i]);
        }

        cells.Add([.. cell]);
        return cells;
    }
}
