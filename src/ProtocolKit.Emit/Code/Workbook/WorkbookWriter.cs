using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>
/// Lines as formulas of one cell each. A spreadsheet's numbers are doubles that it shows and compares by 15 digits, so
/// nothing here may pass 10^14, and INT of a quotient is exact.
/// </summary>
internal sealed class WorkbookWriter(ScoringCells cells, IReadOnlyList<string> fields, List<string> lines)
    : ExpressionWriter(fields, lines)
{
    private string _line = "";

    protected override string Equal => "=";

    protected override string Unequal => "<>";

    protected override string CaseHelper => "LOOKUP";

    /// <summary>Adds a line's column, and those of parts where it is too long for one formula.</summary>
    public void Add(ProgramLine line, string note)
    {
        _line = line.Name;
        var code = line.Value is { } value ? Write(value) : Write(line.Condition!);
        lines.Add(cells.Add(line.Name, note, code.Flat()));
    }

    protected override string Literal(long value) => value.ToString(CultureInfo.InvariantCulture);

    protected override CodeLayout Smallest(Least ends) => Ends("MIN", PartsOf(ends, e => (e.Left, e.Right)));

    protected override CodeLayout Largest(Most ends) => Ends("MAX", PartsOf(ends, e => (e.Left, e.Right)));

    protected override CodeLayout Quotient(FloorDivide quotient, Bond within) =>
        Bracketed(
            "INT",
            CodeLayout.Row(
                Value(quotient.Dividend, Bond.Product),
                CodeLayout.Word("/"),
                Value(quotient.Divisor, Bond.Tight)
            )
        );

    protected override CodeLayout Product(Multiply product, Bond within) =>
        Held(
            CodeLayout.Row(
                Value(product.Left, Bond.Product),
                CodeLayout.Word("*"),
                Value(product.Right, Bond.Tight)
            ),
            Bond.Product,
            within
        );

    protected override CodeLayout Negated(BoolExpr inner, Bond within) =>
        Bracketed("NOT", Condition(inner, Bond.Loose));

    protected override CodeLayout Choice(
        IReadOnlyList<(BoolExpr If, IntExpr Then)> arms,
        IntExpr otherwise,
        Bond within
    ) => Nested("IF", arms, otherwise);

    /// <summary>The cases cover the subject in rising order, so the last that begins at or below it holds it.</summary>
    protected override CodeLayout Case(Pick pick)
    {
        var from = string.Join(',', pick.Cases.Select(c => Literal(c.From)));
        var values = string.Join(',', pick.Cases.Select(c => Literal(c.Value)));
        return CodeLayout.Row(
            CodeLayout.Word("LOOKUP("),
            Value(pick.Subject, Bond.Loose),
            CodeLayout.Word(
                pick.Cases.Count == 1
                    ? $"*0+{pick.Cases[0].From},{{{from}}},{{{values}}})"
                    : $",{{{from}}},{{{values}}})"
            )
        );
    }

    /// <summary>Sums stay sums; <c>and</c> and <c>or</c> are functions here.</summary>
    protected override CodeLayout Combined(IReadOnlyList<CodeLayout> parts, string joint)
    {
        var texts = parts.Select(p => p.Flat()).ToList();
        return CodeLayout.Word(
            joint switch
            {
                "&&" => cells.Joined(_line, texts, g => $"AND({string.Join(',', g)})"),
                "||" => cells.Joined(_line, texts, g => $"OR({string.Join(',', g)})"),
                _ => cells.Joined(_line, texts, g => string.Join(joint, g)),
            }
        );
    }

    private CodeLayout Ends(string word, IReadOnlyList<IntExpr> parts) =>
        CodeLayout.Word(
            cells.Joined(
                _line,
                [.. parts.Select(p => Value(p, Bond.Loose).Flat())],
                g => $"{word}({string.Join(',', g)})"
            )
        );
}
