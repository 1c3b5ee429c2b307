using System.Globalization;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>
/// Writes the scoring program's expressions for targets that spell arithmetic the way C does. Brackets
/// appear only where the target needs them or where <c>and</c> and <c>or</c> meet. A long sum or case table at the
/// top of a line is broken, one part a line.
/// </summary>
/// <param name="fields">The names of the program's fields in code, by index.</param>
/// <param name="lines">The names of its lines in code, by index.</param>
public abstract class ExpressionWriter(IReadOnlyList<string> fields, IReadOnlyList<string> lines)
{
    /// <summary>How tightly a written piece holds together; a looser one within a tighter is bracketed.</summary>
    protected enum Bond
    {
        Loose,
        Either,
        Both,
        Comparison,
        Sum,
        Product,
        Tight,
    }

    private const int PartsOnOneLine = 3;

    /// <summary>
    /// A chain of more parts is bracketed into groups: some engines refuse what nests a few hundred deep, and a
    /// chain nests as deep as it is long.
    /// </summary>
    private const int PartsInOneChain = 60;
    private const string Break = "\n        ";

    protected StringBuilder Code { get; } = new();

    protected abstract string Equal { get; }

    protected abstract string Unequal { get; }

    public string Write(IntExpr value)
    {
        Code.Clear();
        switch (value)
        {
            case GuardedSum { Terms.Count: > PartsOnOneLine } sum:
                Sum(sum, Bond.Loose, Break);
                break;
            case Pick { Cases.Count: > PartsOnOneLine } pick:
                Case(pick, Break);
                break;
            default:
                Value(value, Bond.Loose);
                break;
        }

        return Code.ToString();
    }

    public string Write(BoolExpr condition)
    {
        Code.Clear();
        Condition(condition, Bond.Loose);
        return Code.ToString();
    }

    protected abstract string Literal(long value);

    protected abstract void Smaller(IntExpr left, IntExpr right);

    protected abstract void Larger(IntExpr left, IntExpr right);

    protected abstract void Quotient(FloorDivide quotient, Bond within);

    protected abstract void Product(Multiply product, Bond within);

    /// <summary>Opens the helper that looks a case up; its arguments and the closing bracket follow.</summary>
    protected abstract string OpenCase { get; }

    protected void Value(IntExpr value, Bond within)
    {
        switch (value)
        {
            case Constant c:
                Constant(c.Value, within);
                break;
            case FieldValue f:
                Code.Append(fields[f.Field]);
                break;
            case LineValue l:
                Code.Append(lines[l.Line]);
                break;
            case Add or Subtract:
                Chain(value, within);
                break;
            case Multiply m:
                Product(m, within);
                break;
            case FloorDivide d:
                Quotient(d, within);
                break;
            case Least l:
                Smaller(l.Left, l.Right);
                break;
            case Most m:
                Larger(m.Left, m.Right);
                break;
            case Choose c:
                Choice(c, within);
                break;
            case GuardedSum s:
                Sum(s, within, " ");
                break;
            case Pick p:
                Case(p, " ");
                break;
            default:
                throw new NotSupportedException($"There is no spelling for {value.GetType().Name}.");
        }
    }

    protected void Condition(BoolExpr condition, Bond within)
    {
        switch (condition)
        {
            case LineCondition l:
                Code.Append(lines[l.Line]);
                break;
            case IsEqual e:
                Compare(e.Left, Equal, e.Right, within);
                break;
            case IsAtMost a:
                Compare(a.Left, "<=", a.Right, within);
                break;
            case BothOf b:
                Joined(b, within);
                break;
            case EitherOf e:
                Joined(e, within);
                break;
            case Not { Inner: IsEqual e }:
                Compare(e.Left, Unequal, e.Right, within);
                break;
            case Not { Inner: IsAtMost a }:
                Compare(a.Left, ">", a.Right, within);
                break;
            case Not n:
                Code.Append('!');
                Condition(n.Inner, Bond.Tight);
                break;
            default:
                throw new NotSupportedException($"There is no spelling for {condition.GetType().Name}.");
        }
    }

    /// <summary>Writes a piece, in brackets where its surroundings hold tighter than it does.</summary>
    protected void Piece(Bond own, Bond within, Action write)
    {
        var bracketed = own < within;
        Code.Append(bracketed ? "(" : "");
        write();
        Code.Append(bracketed ? ")" : "");
    }

    private void Constant(long value, Bond within)
    {
        var bracketed = value < 0 && within > Bond.Loose;
        Code.Append(bracketed ? "(" : "").Append(Literal(value)).Append(bracketed ? ")" : "");
    }

    /// <summary>Sums lean left and may be very long: followed in a loop, not by recursion.</summary>
    private void Chain(IntExpr value, Bond within) =>
        Piece(
            Bond.Sum,
            within,
            () =>
            {
                var parts = new Stack<(string Sign, IntExpr Part)>();
                var first = value;
                while (first is Add or Subtract)
                {
                    var (left, sign, right) = first is Add a
                        ? (a.Left, " + ", a.Right)
                        : (((Subtract)first).Left, " - ", ((Subtract)first).Right);
                    parts.Push((sign, right));
                    first = left;
                }

                Value(first, Bond.Sum);
                foreach (var (sign, part) in parts)
                {
                    Code.Append(sign);
                    Value(part, Bond.Product);
                }
            }
        );

    private void Choice(Choose choice, Bond within) =>
        Piece(
            Bond.Loose,
            within,
            () =>
            {
                Condition(choice.If, Bond.Either);
                Code.Append(" ? ");
                Value(choice.Then, Bond.Either);
                Code.Append(" : ");
                Value(choice.Else, Bond.Loose);
            }
        );

    private void Sum(GuardedSum sum, Bond within, string lineBreak)
    {
        if (sum.Terms.Count == 0)
        {
            Code.Append(Literal(0));
            return;
        }

        var bond = sum.Terms.Count > 1 ? Bond.Sum : Bond.Tight;
        Piece(bond, within, () => Grouped(sum.Terms, lineBreak + "+ ", Term));
    }

    private void Grouped<T>(IReadOnlyList<T> parts, string joint, Action<T> write)
    {
        if (parts.Count <= PartsInOneChain)
        {
            for (var i = 0; i < parts.Count; i++)
            {
                Code.Append(i == 0 ? "" : joint);
                write(parts[i]);
            }

            return;
        }

        var size = (parts.Count + PartsInOneChain - 1) / PartsInOneChain;
        var isFirst = true;
        foreach (var group in parts.Chunk(Math.Max(size, PartsInOneChain)))
        {
            Code.Append(isFirst ? "(" : joint + "(");
            Grouped(group, joint, write);
            Code.Append(')');
            isFirst = false;
        }
    }

    private void Term(SumTerm term)
    {
        if (term.If is null)
        {
            Value(term.Value, Bond.Tight);
            return;
        }

        Code.Append('(');
        Condition(term.If, Bond.Either);
        Code.Append(" ? ");
        Value(term.Value, Bond.Either);
        Code.Append(" : ").Append(Literal(0)).Append(')');
    }

    private void Case(Pick pick, string lineBreak)
    {
        Code.Append(OpenCase);
        Value(pick.Subject, Bond.Loose);
        foreach (var one in pick.Cases)
        {
            Code.Append(',')
                .Append(lineBreak)
                .Append(
                    CultureInfo.InvariantCulture,
                    $"{Literal(one.From)}, {Literal(one.To)}, {Literal(one.Value)}"
                );
        }

        Code.Append(')');
    }

    private void Compare(IntExpr left, string sign, IntExpr right, Bond within) =>
        Piece(
            Bond.Comparison,
            within,
            () =>
            {
                Value(left, Bond.Sum);
                Code.Append(' ').Append(sign).Append(' ');
                Value(right, Bond.Sum);
            }
        );

    /// <summary>A run of one and the same <c>and</c> or <c>or</c>; the other kind inside it is bracketed.</summary>
    private void Joined(BoolExpr condition, Bond within)
    {
        var isBoth = condition is BothOf;
        var parts = new List<BoolExpr>();
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
                    parts.Add(next);
                    break;
            }
        }

        Piece(
            isBoth ? Bond.Both : Bond.Either,
            within,
            () => Grouped(parts, isBoth ? " && " : " || ", part => Condition(part, Bond.Comparison))
        );
    }
}
