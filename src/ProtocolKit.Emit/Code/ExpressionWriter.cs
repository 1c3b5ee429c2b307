using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>
/// Writes the scoring program's expressions. As it stands it spells them the way C does; a target overrides what
/// it spells otherwise. Brackets appear only where the target needs them or where <c>and</c> and <c>or</c> meet.
/// </summary>
/// <param name="fields">The names of the program's fields in code, by index.</param>
/// <param name="lines">The names of its lines in code, by index.</param>
internal abstract class ExpressionWriter(IReadOnlyList<string> fields, IReadOnlyList<string> lines)
{
    /// <summary>How tightly a written piece holds together; a looser one within a tighter is bracketed.</summary>
    protected enum Bond
    {
        Loose,
        Either,
        Both,
        Negation,
        Comparison,
        Sum,
        Product,
        Tight,
    }

    /// <summary>
    /// A chain of more parts is bracketed into groups: some engines refuse what nests a few hundred deep, and a
    /// chain nests as deep as it is long.
    /// </summary>
    private const int PartsInOneChain = 60;

    protected abstract string Equal { get; }

    protected abstract string Unequal { get; }

    protected virtual string And => "&&";

    protected virtual string Or => "||";

    /// <summary>The helper that looks a case up: subject, then from, to, value of each case.</summary>
    protected abstract string CaseHelper { get; }

    public CodeLayout Write(IntExpr value) => Value(value, Bond.Loose);

    public CodeLayout Write(BoolExpr condition) => Condition(condition, Bond.Loose);

    protected abstract string Literal(long value);

    /// <summary>How a field is read.</summary>
    protected virtual string Field(int field) => fields[field];

    /// <summary>How an earlier line is read.</summary>
    protected virtual string Line(int line) => lines[line];

    /// <summary>An earlier condition line as a condition.</summary>
    protected virtual CodeLayout Holds(int line) => CodeLayout.Word(Line(line));

    /// <summary>One side of a comparison.</summary>
    protected virtual CodeLayout Operand(IntExpr value) => Value(value, Bond.Sum);

    protected abstract CodeLayout Smallest(Least ends);

    protected abstract CodeLayout Largest(Most ends);

    protected abstract CodeLayout Quotient(FloorDivide quotient, Bond within);

    protected abstract CodeLayout Product(Multiply product, Bond within);

    /// <summary>The value beside the first condition that holds, or the last one.</summary>
    protected virtual CodeLayout Choice(
        IReadOnlyList<(BoolExpr If, IntExpr Then)> arms,
        IntExpr otherwise,
        Bond within
    )
    {
        var parts = new List<(string, CodeLayout)>();
        foreach (var (condition, value) in arms)
        {
            parts.Add((":", Condition(condition, Bond.Either)));
            parts.Add(("?", Value(value, Bond.Either)));
        }

        parts.Add((":", Value(otherwise, Bond.Loose)));
        return Held(CodeLayout.Chain(parts), Bond.Loose, within);
    }

    /// <summary>The same as calls within calls of a function of a condition and two values.</summary>
    protected CodeLayout Nested(
        string function,
        IReadOnlyList<(BoolExpr If, IntExpr Then)> arms,
        IntExpr otherwise
    )
    {
        var rest = Value(otherwise, Bond.Loose);
        for (var i = arms.Count - 1; i >= 0; i--)
        {
            rest = Bracketed(
                function,
                CodeLayout.List([Condition(arms[i].If, Bond.Loose), Value(arms[i].Then, Bond.Loose), rest])
            );
        }

        return rest;
    }

    protected virtual CodeLayout Negated(BoolExpr inner, Bond within) =>
        CodeLayout.Row(CodeLayout.Word("!"), Condition(inner, Bond.Tight));

    protected virtual CodeLayout Case(Pick pick) =>
        Bracketed(
            CaseHelper,
            CodeLayout.List([
                Value(pick.Subject, Bond.Loose),
                .. pick.Cases.Select(c =>
                    CodeLayout.Word($"{Literal(c.From)}, {Literal(c.To)}, {Literal(c.Value)}")
                ),
            ])
        );

    protected CodeLayout Value(IntExpr value, Bond within) =>
        value switch
        {
            Constant c => Constant(c.Value, within),
            FieldValue f => CodeLayout.Word(Field(f.Field)),
            LineValue l => CodeLayout.Word(Line(l.Line)),
            Add or Subtract => Chain(value, within),
            Multiply m => Product(m, within),
            FloorDivide d => Quotient(d, within),
            Least l => Smallest(l),
            Most m => Largest(m),
            Choose c => Choice(c, within),
            GuardedSum s => Sum(s, within),
            Pick p => Case(p),
            _ => throw new NotSupportedException($"There is no spelling for {value.GetType().Name}."),
        };

    protected CodeLayout Condition(BoolExpr condition, Bond within) =>
        condition switch
        {
            LineCondition l => Holds(l.Line),
            IsEqual e => Compare(e.Left, Equal, e.Right, within),
            IsAtMost a => Compare(a.Left, "<=", a.Right, within),
            BothOf or EitherOf => Joined(condition, within),
            Not { Inner: IsEqual e } => Compare(e.Left, Unequal, e.Right, within),
            Not { Inner: IsAtMost a } => Compare(a.Left, ">", a.Right, within),
            Not n => Negated(n.Inner, within),
            _ => throw new NotSupportedException($"There is no spelling for {condition.GetType().Name}."),
        };

    protected CodeLayout Call(string helper, IntExpr left, IntExpr right) =>
        Bracketed(helper, CodeLayout.List([Value(left, Bond.Loose), Value(right, Bond.Loose)]));

    /// <summary>The parts of a least of leasts, or a most of mosts, however they nest.</summary>
    protected static IReadOnlyList<IntExpr> PartsOf<TEnds>(TEnds ends, Func<TEnds, (IntExpr, IntExpr)> split)
        where TEnds : IntExpr
    {
        var parts = new List<IntExpr>();
        var rest = new Stack<IntExpr>([ends]);
        while (rest.TryPop(out var next))
        {
            if (next is TEnds more)
            {
                var (left, right) = split(more);
                rest.Push(right);
                rest.Push(left);
            }
            else
            {
                parts.Add(next);
            }
        }

        return parts;
    }

    protected static CodeLayout Bracketed(string before, CodeLayout inner) =>
        CodeLayout.Row(CodeLayout.Word(before + "("), inner, CodeLayout.Word(")"));

    /// <summary>A piece, in brackets where its surroundings hold tighter than it does.</summary>
    protected static CodeLayout Held(CodeLayout piece, Bond own, Bond within) =>
        own < within ? Bracketed("", piece) : piece;

    private CodeLayout Constant(long value, Bond within)
    {
        var literal = CodeLayout.Word(Literal(value));
        return value < 0 ? Held(literal, Bond.Loose, within) : literal;
    }

    /// <summary>Sums lean left and may be very long: followed in a loop, not by recursion.</summary>
    private CodeLayout Chain(IntExpr value, Bond within)
    {
        var parts = new List<(string, CodeLayout)>();
        var first = value;
        while (first is Add or Subtract)
        {
            var (left, sign, right) = first is Add a
                ? (a.Left, "+", a.Right)
                : (((Subtract)first).Left, "-", ((Subtract)first).Right);
            parts.Add((sign, Value(right, Bond.Product)));
            first = left;
        }

        parts.Add(("", Value(first, Bond.Sum)));
        parts.Reverse();
        return Held(CodeLayout.Chain(parts), Bond.Sum, within);
    }

    /// <summary>A choice whose last branch is a choice again is written on as one chain.</summary>
    private CodeLayout Choice(Choose choice, Bond within)
    {
        var arms = new List<(BoolExpr, IntExpr)> { (choice.If, choice.Then) };
        var rest = choice;
        while (rest.Else is Choose further)
        {
            arms.Add((further.If, further.Then));
            rest = further;
        }

        return Choice(arms, rest.Else, within);
    }

    private CodeLayout Sum(GuardedSum sum, Bond within)
    {
        if (sum.Terms.Count == 0)
        {
            return CodeLayout.Word(Literal(0));
        }

        var bond = sum.Terms.Count > 1 ? Bond.Sum : Bond.Tight;
        return Held(Combined([.. sum.Terms.Select(Term)], "+"), bond, within);
    }

    private CodeLayout Term(SumTerm term) =>
        term.If is null
            ? Value(term.Value, Bond.Tight)
            : Choice([(term.If, term.Value)], new Constant(0), Bond.Tight);

    /// <summary>Parts of a sum, or of one and the same <c>and</c> or <c>or</c>, as one piece.</summary>
    protected virtual CodeLayout Combined(IReadOnlyList<CodeLayout> parts, string joint) =>
        Grouped(parts, joint);

    private static CodeLayout Grouped(IReadOnlyList<CodeLayout> parts, string joint)
    {
        if (parts.Count <= PartsInOneChain)
        {
            return CodeLayout.Chain([.. parts.Select(p => (joint, p))]);
        }

        var size = Math.Max(PartsInOneChain, (parts.Count + PartsInOneChain - 1) / PartsInOneChain);
        return CodeLayout.Chain([
            .. parts.Chunk(size).Select(g => (joint, Bracketed("", Grouped(g, joint)))),
        ]);
    }

    private CodeLayout Compare(IntExpr left, string sign, IntExpr right, Bond within) =>
        Held(CodeLayout.Chain([("", Operand(left)), (sign, Operand(right))]), Bond.Comparison, within);

    /// <summary>A run of one and the same <c>and</c> or <c>or</c>; the other kind inside it is bracketed.</summary>
    private CodeLayout Joined(BoolExpr condition, Bond within)
    {
        var isBoth = condition is BothOf;
        var parts = new List<CodeLayout>();
        var rest = new Stack<BoolExpr>([condition]);
        while (rest.TryPop(out var next))
        {
            switch (next)
            {
                case BothOf both when isBoth:
                    rest.Push(both.Right);
                    rest.Push(both.Left);
                    break;
                case EitherOf either when !isBoth:
                    rest.Push(either.Right);
                    rest.Push(either.Left);
                    break;
                default:
                    parts.Add(Condition(next, Bond.Negation));
                    break;
            }
        }

        return Held(Combined(parts, isBoth ? And : Or), isBoth ? Bond.Both : Bond.Either, within);
    }
}
