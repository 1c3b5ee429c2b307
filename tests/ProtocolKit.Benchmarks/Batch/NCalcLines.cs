using System.Globalization;
using NCalc;
using ProtocolKit.Model;

namespace ProtocolKit.Benchmarks.Batch;

/// <summary>The lines of a program as formulas for NCalc, each read once and evaluated for every record.</summary>
internal sealed class NCalcLines
{
    private readonly ScoringProgram _program;
    private readonly Dictionary<string, object?> _values = new(StringComparer.Ordinal);
    private readonly List<(string Name, int Line, Expression Formula)> _formulas;
    private readonly string[] _fields;

    /// <param name="needed">Lines to evaluate, each after those it reads.</param>
    public NCalcLines(ScoringProgram program, IEnumerable<int> needed)
    {
        _program = program;
        _fields = [.. program.Fields.Select((_, i) => Name('f', i))];
        var context = new ExpressionContext { Parameters = _values };
        _formulas =
        [
            .. needed.Select(l =>
                (
                    Name('l', l),
                    l,
                    new Expression(
                        program.Lines[l].Value is { } value ? Text(value) : Text(program.Lines[l].Condition!),
                        context
                    )
                )
            ),
        ];
    }

    /// <summary>Evaluates all formulas for one record, and gives what came out by line.</summary>
    public IReadOnlyDictionary<int, long> Run(long[][] fields, int row)
    {
        for (var f = 0; f < _fields.Length; f++)
        {
            _values[_fields[f]] = fields[f][row];
        }

        var results = new Dictionary<int, long>(_formulas.Count);
        foreach (var (name, line, formula) in _formulas)
        {
            var value = formula.Evaluate(CancellationToken.None);
            if (_program.Lines[line].Value is not null)
            {
                value = Convert.ToInt64(value, CultureInfo.InvariantCulture);
            }

            _values[name] = value;
            results[line] = Convert.ToInt64(value, CultureInfo.InvariantCulture);
        }

        return results;
    }

    private static string Text(IntExpr value) =>
        value switch
        {
            Constant c => c.Value.ToString(CultureInfo.InvariantCulture),
            FieldValue f => Name('f', f.Field),
            LineValue l => Name('l', l.Line),
            Add a => $"({Text(a.Left)} + {Text(a.Right)})",
            Subtract s => $"({Text(s.Left)} - {Text(s.Right)})",
            Multiply m => $"({Text(m.Left)} * {Text(m.Right)})",
            Least l => $"Min({Text(l.Left)}, {Text(l.Right)})",
            Most m => $"Max({Text(m.Left)}, {Text(m.Right)})",
            Choose c => $"if({Text(c.If)}, {Text(c.Then)}, {Text(c.Else)})",
            FloorDivide d => $"Floor({Text(d.Dividend)} / {Text(d.Divisor)})",
            GuardedSum s => $"({string.Join(" + ", s.Terms.Select(Text).Prepend("0"))})",
            Pick p => p
                .Cases.Reverse()
                .Skip(1)
                .Aggregate(
                    Whole(p.Cases[^1].Value),
                    (rest, c) => $"if({Text(p.Subject)} <= {Whole(c.To)}, {Whole(c.Value)}, {rest})"
                ),
            _ => throw new InvalidOperationException("The program holds a value no one has given a meaning."),
        };

    private static string Text(SumTerm term) =>
        term.If is null ? Text(term.Value) : $"if({Text(term.If)}, {Text(term.Value)}, 0)";

    private static string Text(BoolExpr condition) =>
        condition switch
        {
            LineCondition l => Name('l', l.Line),
            IsEqual e => $"({Text(e.Left)} == {Text(e.Right)})",
            IsAtMost a => $"({Text(a.Left)} <= {Text(a.Right)})",
            BothOf b => $"({Text(b.Left)} && {Text(b.Right)})",
            EitherOf e => $"({Text(e.Left)} || {Text(e.Right)})",
            Not n => $"!({Text(n.Inner)})",
            _ => throw new InvalidOperationException(
                "The program holds a condition no one has given a meaning."
            ),
        };

    private static string Whole(long value) => $"({value.ToString(CultureInfo.InvariantCulture)})";

    private static string Name(char kind, int index) =>
        string.Create(CultureInfo.InvariantCulture, $"{kind}{index}");
}
