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
    private static readonly TokenListParser<TokenKind, NumberSpan> Single = Basic.Literal.Select(n => new NumberSpan(
        n,
        n
    ));

    private static readonly TokenListParser<TokenKind, NumberSpan> Range = Basic.RangeOf.Try().Or(Single);

    private List<Token<TokenKind>[]> _heading = [];

    public void Read(Line line, CutOffsBlock? table)
    {
        foreach (var child in line.Children)
        {
            if (child.First.Is("basis"))
            {
                if (lines.Read(child, RuleLineParsers.Basis) is BasisLine basis)
                {
                    table?.Bases.Add(basis);
                }
            }
            else if (child.First.Is("ages"))
            {
                Heading(child, table);
            }
            else
            {
                Row(child, table);
            }

            lines.RefuseChildren(child);
        }
    }

    private void Heading(Line line, CutOffsBlock? table)
    {
        _heading = [.. Cells(line).Skip(1)];
        var names = new List<Word>();
        foreach (var cell in _heading)
        {
            if (cell.Length == 1 && cell[0].Kind == TokenKind.Name)
            {
                names.Add(new Word(cell[0].ToStringValue(), cell[0].Place()));
            }
            else
            {
                lines.Report(cell[0].Place(), LineMessages.CellUnreadable(lines.Written(cell[0], cell[^1])));
            }
        }

        if (table is not null)
        {
            table.Bands = names;
        }
    }

    private void Row(Line line, CutOffsBlock? table)
    {
        if (_heading.Count == 0)
        {
            if (table is { Rows.Count: 0 })
            {
                lines.Report(line.Place, LineMessages.NoHeading());
            }

            return;
        }

        var cells = Cells(line);
        var ages = Basic.Ages.TryParse(new TokenList<TokenKind>(cells[0]));
        if (!ages.HasValue || !ages.Remainder.IsAtEnd)
        {
            // Read the row as a whole line for the sake of its message.
            _ = lines.Read(new Line(cells[0]), Basic.Ages.Select(a => (Statement)new AgesLine(a)));
            return;
        }

        if (Place(line, cells) is { } values)
        {
            table?.Rows.Add(
                new CutOffRowLine(ages.Value, values) { Source = lines.Source, Place = line.Place }
            );
        }
    }

    /// <summary>Each cell under its heading; headings without a cell hold nothing.</summary>
    private CutOffCellValue[]? Place(Line line, List<Token<TokenKind>[]> cells)
    {
        var values = new CutOffCellValue?[_heading.Count];
        var column = -1;
        foreach (var cell in cells.Skip(1))
        {
            column = cells.Count - 1 == _heading.Count ? column + 1 : Nearest(cell[0]);
            if (cells.Count - 1 > _heading.Count || values[column] is not null)
            {
                lines.Report(line.Place, LineMessages.Cells(cells.Count - 1, _heading.Count));
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

    private int Nearest(Token<TokenKind> cell)
    {
        var at = cell.Place().Column;
        return Enumerable
            .Range(0, _heading.Count)
            .MinBy(i => Math.Abs(_heading[i][0].Place().Column - at));
    }

    private CutOffCellValue? CellOf(Token<TokenKind>[] cell)
    {
        var place = cell[0].Place().To(cell[^1].Place());
        if (cell.Length == 1 && cell[0].Is("none"))
        {
            return new CutOffCellValue(null, place);
        }

        var result = Range.TryParse(new TokenList<TokenKind>(cell));
        if (result.HasValue && result.Remainder.IsAtEnd)
        {
            return new CutOffCellValue(result.Value, place);
        }

        lines.Report(place, LineMessages.CellUnreadable(lines.Written(cell[0], cell[^1])));
        return null;
    }

    private static List<Token<TokenKind>[]> Cells(Line line)
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
