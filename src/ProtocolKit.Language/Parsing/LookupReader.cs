using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using Superpower.Model;

namespace ProtocolKit.Language.Parsing;

/// <summary>Reads a table of results: a heading of ages, rows that begin with a raw value or a range of them, and a basis.</summary>
internal sealed class LookupReader(LineReader lines)
{
    private static readonly TokenListParser<TokenKind, NumberSpan> Raw = (
        from low in Basic.Literal
        from to in Basic.Keyword("to")
        from high in Basic.Literal
        select new NumberSpan(low, high)
    )
        .Try()
        .Or(Basic.Literal.Select(n => new NumberSpan(n, n)));

    private static readonly TokenListParser<TokenKind, LookupCellValue> Result = Basic
        .Keyword("none")
        .Select(_ => new LookupCellValue(null, default))
        .Or(Basic.Literal.Select(n => new LookupCellValue(n, default)));

    private int _columns;

    /// <param name="parent">The table, or the broken statement in its place: its rows are read all the same.</param>
    public void Read(Line line, Statement parent)
    {
        var table = (parent as OutcomeBlock)?.Lookup;
        foreach (var child in line.Children)
        {
            parent.Incomplete |= !Line(child, table);
            lines.RefuseChildren(child);
        }

        if (line.Children.Count == 0 && table is not null)
        {
            lines.Report(line.Place, ScoreMessages.NoAgesHeading());
            parent.Incomplete = true;
        }
    }

    private bool Line(Line line, LookupBody? table)
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

        return line.First.Is("raw") ? Heading(line, table) : Row(line, table);
    }

    private bool Heading(Line line, LookupBody? table)
    {
        var cells = TableReader.Cells(line).Skip(1).ToList();
        _columns = cells.Count;
        foreach (var cell in cells)
        {
            if (Whole(Basic.Ages, cell) is not { } ages)
            {
                lines.Report(Place(cell), ScoreMessages.NoAges(Written(cell)));
                return false;
            }

            table?.Ages.Add(ages);
        }

        if (_columns == 0)
        {
            lines.Report(line.Place, ScoreMessages.NoAgesHeading());
        }

        return _columns > 0;
    }

    private bool Row(Line line, LookupBody? table)
    {
        if (_columns == 0)
        {
            // A heading that could not be read was told already.
            if (table is { Ages.Count: 0, Rows.Count: 0 })
            {
                lines.Report(line.Place, ScoreMessages.NoAgesHeading());
                _columns = int.MaxValue;
            }

            return false;
        }

        var cells = TableReader.Cells(line);
        if (Whole(Raw, cells[0]) is not { } raw)
        {
            lines.Report(Place(cells[0]), ScoreMessages.NoRaw(Written(cells[0])));
            return false;
        }

        if (_columns == int.MaxValue)
        {
            return false;
        }

        if (cells.Count - 1 != _columns)
        {
            lines.Report(line.Place, ScoreMessages.TableCells(cells.Count - 1, _columns));
            return false;
        }

        var results = new List<LookupCellValue>();
        foreach (var cell in cells.Skip(1))
        {
            if (Whole(Result, cell) is not { } result)
            {
                lines.Report(Place(cell), ScoreMessages.NoResult(Written(cell)));
                return false;
            }

            results.Add(result with { Place = Place(cell) });
        }

        table?.Rows.Add(new LookupRowLine(raw, results) { Source = lines.Source, Place = line.Place });
        return true;
    }

    private static T? Whole<T>(TokenListParser<TokenKind, T> parser, Token<TokenKind>[] cell)
        where T : class
    {
        var result = parser.TryParse(new TokenList<TokenKind>(cell));
        return result.HasValue && result.Remainder.IsAtEnd ? result.Value : null;
    }

    private static Place Place(Token<TokenKind>[] cell) => cell[0].Place().To(cell[^1].Place());

    private string Written(Token<TokenKind>[] cell) => LineReader.Shorten(lines.Written(cell[0], cell[^1]));
}
