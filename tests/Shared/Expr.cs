using ProtocolKit.Model;

namespace ProtocolKit.TestPrograms;

/// <summary>Expressions with the limits interval arithmetic proves for them, written apart from the compiler's.</summary>
internal static class Expr
{
    public static IntExpr Const(long value) => new Constant(value);

    public static IntExpr Plus(IntExpr a, IntExpr b) => new Add(a, b, a.Low + b.Low, a.High + b.High);

    public static IntExpr Minus(IntExpr a, IntExpr b) => new Subtract(a, b, a.Low - b.High, a.High - b.Low);

    public static IntExpr Times(IntExpr a, IntExpr b)
    {
        Int128[] corners =
        [
            (Int128)a.Low * b.Low,
            (Int128)a.Low * b.High,
            (Int128)a.High * b.Low,
            (Int128)a.High * b.High,
        ];
        return new Multiply(a, b, (long)corners.Min(), (long)corners.Max());
    }

    public static IntExpr Smaller(IntExpr a, IntExpr b) =>
        new Least(a, b, Math.Min(a.Low, b.Low), Math.Min(a.High, b.High));

    public static IntExpr Larger(IntExpr a, IntExpr b) =>
        new Most(a, b, Math.Max(a.Low, b.Low), Math.Max(a.High, b.High));

    public static IntExpr If(BoolExpr condition, IntExpr then, IntExpr otherwise) =>
        new Choose(
            condition,
            then,
            otherwise,
            Math.Min(then.Low, otherwise.Low),
            Math.Max(then.High, otherwise.High)
        );

    public static IntExpr Floor(IntExpr dividend, IntExpr divisor)
    {
        if (dividend.Low < 0 || divisor.Low < 1)
        {
            throw new ArgumentException(
                "A quotient needs a dividend of at least 0 and a divisor of at least 1."
            );
        }

        return new FloorDivide(dividend, divisor, dividend.Low / divisor.High, dividend.High / divisor.Low);
    }

    /// <summary>The quotient rounded half up, by core.md's own formula; the dividend may be negative.</summary>
    public static IntExpr RoundHalfUp(IntExpr dividend, long divisor)
    {
        var guard = dividend.Low < 0 ? ((-dividend.Low) / divisor) + 1 : 0;
        var twice = Plus(Times(Const(2), dividend), Const(divisor + (2 * divisor * guard)));
        return Minus(Floor(twice, Const(2 * divisor)), Const(guard));
    }

    public static IntExpr Sum(params (BoolExpr? If, IntExpr Value)[] terms) =>
        new GuardedSum(
            [.. terms.Select(t => new SumTerm(t.If, t.Value))],
            terms.Sum(t => t.If is null ? t.Value.Low : Math.Min(0, t.Value.Low)),
            terms.Sum(t => t.If is null ? t.Value.High : Math.Max(0, t.Value.High))
        );

    public static IntExpr Case(IntExpr subject, params (long From, long To, long Value)[] cases) =>
        new Pick(
            subject,
            [.. cases.Select(c => new PickCase(c.From, c.To, c.Value))],
            cases.Min(c => c.Value),
            cases.Max(c => c.Value)
        );

    public static BoolExpr Same(IntExpr a, IntExpr b) => new IsEqual(a, b);

    public static BoolExpr AtMost(IntExpr a, IntExpr b) => new IsAtMost(a, b);

    public static BoolExpr And(BoolExpr a, BoolExpr b) => new BothOf(a, b);

    public static BoolExpr Or(BoolExpr a, BoolExpr b) => new EitherOf(a, b);

    public static BoolExpr No(BoolExpr a) => new Not(a);
}
