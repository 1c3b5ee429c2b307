using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>
/// Writes lines as SQL and keeps note of the columns each reads. Numbers are 64 bits wide: fields and lines are, and
/// where a literal meets only literals it is widened too.
/// </summary>
internal sealed class SqlWriter(
    SqlDialect dialect,
    IReadOnlyList<string> fields,
    IReadOnlyList<string> lines,
    SqlNames names
) : ExpressionWriter(fields, lines)
{
    /// <summary>Above it a few literals together could pass 32 bits.</summary>
    private const long Small = 10_000;

    private readonly HashSet<string> _needs = new(StringComparer.Ordinal);
    private readonly List<SqlColumn> _subjects = [];
    private string _line = "";

    protected override string Equal => "=";

    protected override string Unequal => "<>";

    protected override string And => "and";

    protected override string Or => "or";

    protected override string CaseHelper => "case";

    /// <summary>The column of a line, after those of its own that it needs.</summary>
    public IReadOnlyList<SqlColumn> Columns(ProgramLine line, string name, string comment)
    {
        _line = name;
        _subjects.Clear();
        _needs.Clear();
        var code = line.Value is { } value ? Wide(value, Value(value, Bond.Loose)) : Write(line.Condition!);
        return [.. _subjects, new SqlColumn(name, code, comment, [.. _needs])];
    }

    protected override string Literal(long value) =>
        Math.Abs(value) > Small ? dialect.Wide(Digits(value)) : dialect.Whole(value);

    protected override string Field(int field) => Read(base.Field(field));

    protected override string Line(int line) => Read(base.Line(line));

    protected override CodeLayout Operand(IntExpr value) =>
        value is Constant c
            ? CodeLayout.Word(c.Value < 0 ? $"({Digits(c.Value)})" : Digits(c.Value))
            : base.Operand(value);

    protected override CodeLayout Smallest(Least ends) =>
        Ends("least", ends.Left, ends.Right, PartsOf(ends, e => (e.Left, e.Right)));

    protected override CodeLayout Largest(Most ends) =>
        Ends("greatest", ends.Left, ends.Right, PartsOf(ends, e => (e.Left, e.Right)));

    protected override CodeLayout Quotient(FloorDivide quotient, Bond within)
    {
        var code = dialect.Quotient("\u0001", "\u0002");
        var (first, second) = (code.IndexOf('\u0001'), code.IndexOf('\u0002'));
        var isCall = first > 0;
        var bond = isCall ? Bond.Loose : Bond.Product;
        var layout = CodeLayout.Row(
            CodeLayout.Word(code[..first]),
            Value(quotient.Dividend, bond),
            CodeLayout.Word(code[(first + 1)..second]),
            Value(quotient.Divisor, isCall ? Bond.Loose : Bond.Tight),
            CodeLayout.Word(code[(second + 1)..])
        );
        return isCall ? layout : Held(layout, Bond.Product, within);
    }

    protected override CodeLayout Product(Multiply product, Bond within)
    {
        var left =
            IsLiteral(product.Left) && IsLiteral(product.Right)
                ? Bracketed("", CodeLayout.Word(dialect.Wide("0") + " + "), Value(product.Left, Bond.Product))
                : Value(product.Left, Bond.Product);
        return Held(
            CodeLayout.Chain([("", left), ("*", Value(product.Right, Bond.Tight))]),
            Bond.Product,
            within
        );
    }

    protected override CodeLayout Negated(BoolExpr inner, Bond within) =>
        Held(CodeLayout.Row(CodeLayout.Word("not "), Condition(inner, Bond.Negation)), Bond.Negation, within);

    protected override CodeLayout Choice(
        IReadOnlyList<(BoolExpr If, IntExpr Then)> arms,
        IntExpr otherwise,
        Bond within
    ) =>
        Cases(
            "case when ",
            [
                .. arms.Select(a =>
                    CodeLayout.Row(
                        Condition(a.If, Bond.Loose),
                        CodeLayout.Word(" then "),
                        Value(a.Then, Bond.Loose)
                    )
                ),
            ],
            Value(otherwise, Bond.Loose)
        );

    /// <summary>The cases cover the subject, in rising order: its first upper end that is not passed decides.</summary>
    protected override CodeLayout Case(Pick pick)
    {
        var subject = Subject(pick.Subject);
        return Cases(
            "case when ",
            [
                .. pick
                    .Cases.SkipLast(1)
                    .Select(c => CodeLayout.Word($"{subject} <= {Digits(c.To)} then {Literal(c.Value)}")),
            ],
            CodeLayout.Word(Literal(pick.Cases[^1].Value))
        );
    }

    private static CodeLayout Cases(string start, IReadOnlyList<CodeLayout> whens, CodeLayout otherwise) =>
        whens.Count == 0
            ? otherwise
            : CodeLayout.Row(
                CodeLayout.Word(start),
                CodeLayout.Chain([.. whens.Select(w => ("when", w)), ("else", otherwise)]),
                CodeLayout.Word(" end")
            );

    /// <summary>A subject is read once a case: one that is worked out gets a column of its own.</summary>
    private string Subject(IntExpr subject)
    {
        if (subject is FieldValue f)
        {
            return Field(f.Field);
        }

        if (subject is LineValue l)
        {
            return Line(l.Line);
        }

        var before = _needs.ToList();
        _needs.Clear();
        var code = Wide(subject, Value(subject, Bond.Loose));
        var name = names.Of(_line + " subject");
        _subjects.Add(new SqlColumn(name, code, "what a case of the line looks at", [.. _needs]));
        _needs.Clear();
        _needs.UnionWith(before);
        return Read(name);
    }

    private CodeLayout Ends(string word, IntExpr left, IntExpr right, IReadOnlyList<IntExpr> all) =>
        dialect.EndsOfMany
            ? Bracketed(word, CodeLayout.List([.. all.Select(a => Value(a, Bond.Loose))]))
            : Call(word, left, right);

    private CodeLayout Wide(IntExpr value, CodeLayout code)
    {
        if (!IsLiteral(value))
        {
            return code;
        }

        var parts = dialect.Wide("\u0001").Split('\u0001');
        return CodeLayout.Row(CodeLayout.Word(parts[0]), code, CodeLayout.Word(parts[1]));
    }

    /// <summary>Whether nothing but literals decides how wide the value is.</summary>
    private static bool IsLiteral(IntExpr value) =>
        value switch
        {
            Model.Constant => true,
            Add a => IsLiteral(a.Left) && IsLiteral(a.Right),
            Subtract s => IsLiteral(s.Left) && IsLiteral(s.Right),
            Multiply m => IsLiteral(m.Left) && IsLiteral(m.Right),
            Least l => IsLiteral(l.Left) && IsLiteral(l.Right),
            Most m => IsLiteral(m.Left) && IsLiteral(m.Right),
            FloorDivide d => IsLiteral(d.Dividend) && IsLiteral(d.Divisor),
            Choose c => IsLiteral(c.Then) && IsLiteral(c.Else),
            GuardedSum s => s.Terms.All(t => IsLiteral(t.Value)),
            Pick => true,
            _ => false,
        };

    private string Read(string column)
    {
        _needs.Add(column);
        return dialect.Column(column);
    }

    private static CodeLayout Bracketed(string word, params CodeLayout[] parts) =>
        ExpressionWriter.Bracketed(word, CodeLayout.Row(parts));

    private static string Digits(long value) => value.ToString(CultureInfo.InvariantCulture);
}
