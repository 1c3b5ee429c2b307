using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// Builds core expressions with their proved limits, folding what is constant. A value that could pass
/// <see cref="ScoringProgram.Limit"/> sets <see cref="Exceeded"/>; the caller reports it and drops the line.
/// </summary>
internal sealed class IntMath
{
    private static readonly Constant[] Small = [.. Enumerable.Range(0, 32).Select(n => new Constant(n))];

    /// <summary>A sub-value could be too large since this was last cleared.</summary>
    public bool Exceeded { get; set; }

    public static IntExpr Number(long value) =>
        value >= 0 && value < Small.Length ? Small[value] : new Constant(value);

    public IntExpr Number(BigInteger value) => Number(Fit(value));

    private IntExpr Number(Int128 value) => Number(Fit(value));

    public IntExpr Add(IntExpr a, IntExpr b) =>
        (a, b) switch
        {
            (Constant { Value: 0 }, _) => b,
            (_, Constant { Value: 0 }) => a,
            (Constant x, Constant y) => Number((Int128)x.Value + y.Value),
            _ => new Add(a, b, Fit((Int128)a.Low + b.Low), Fit((Int128)a.High + b.High)),
        };

    public IntExpr Subtract(IntExpr a, IntExpr b) =>
        (a, b) switch
        {
            (_, Constant { Value: 0 }) => a,
            (Constant x, Constant y) => Number((Int128)x.Value - y.Value),
            _ => new Subtract(a, b, Fit((Int128)a.Low - b.High), Fit((Int128)a.High - b.Low)),
        };

    public IntExpr Negate(IntExpr a) => Subtract(Number(0), a);

    public IntExpr Multiply(IntExpr a, IntExpr b)
    {
        switch (a, b)
        {
            case (Constant { Value: 1 }, _):
                return b;
            case (_, Constant { Value: 1 }):
                return a;
            case (Constant { Value: 0 }, _) or (_, Constant { Value: 0 }):
                return Number(0);
            case (Constant x, Constant y):
                return Number((Int128)x.Value * y.Value);
        }

        Span<Int128> corners =
        [
            (Int128)a.Low * b.Low,
            (Int128)a.Low * b.High,
            (Int128)a.High * b.Low,
            (Int128)a.High * b.High,
        ];
        var (low, high) = (corners[0], corners[0]);
        foreach (var corner in corners)
        {
            low = Int128.Min(low, corner);
            high = Int128.Max(high, corner);
        }

        return new Multiply(a, b, Fit(low), Fit(high));
    }

    public IntExpr Multiply(IntExpr a, BigInteger factor) => Multiply(a, Number(factor));

    public static IntExpr Least(IntExpr a, IntExpr b)
    {
        if (ReferenceEquals(a, b) || a.High <= b.Low)
        {
            return a;
        }

        return b.High <= a.Low ? b : new Least(a, b, Math.Min(a.Low, b.Low), Math.Min(a.High, b.High));
    }

    public static IntExpr Most(IntExpr a, IntExpr b)
    {
        if (ReferenceEquals(a, b) || a.Low >= b.High)
        {
            return a;
        }

        return b.Low >= a.High ? b : new Most(a, b, Math.Max(a.Low, b.Low), Math.Max(a.High, b.High));
    }

    /// <summary>Folds in halves, so that two thousand parts nest eleven deep and not two thousand.</summary>
    public static T Balanced<T>(IReadOnlyList<T> parts, Func<T, T, T> join)
    {
        return Fold(0, parts.Count);

        T Fold(int from, int to) =>
            to - from == 1 ? parts[from] : join(Fold(from, (from + to) / 2), Fold((from + to) / 2, to));
    }

    public static IntExpr Choose(BoolExpr condition, IntExpr yes, IntExpr no)
    {
        if (Bools.IsTrue(condition) || SameValue(yes, no))
        {
            return yes;
        }

        return Bools.IsFalse(condition)
            ? no
            : new Choose(condition, yes, no, Math.Min(yes.Low, no.Low), Math.Max(yes.High, no.High));
    }

    /// <summary>Requires a dividend of at least 0 and a divisor of at least 1 by their limits.</summary>
    public IntExpr FloorDivide(IntExpr a, IntExpr b)
    {
        if (!Exceeded && (a.Low < 0 || b.Low < 1))
        {
            throw new InvalidOperationException(
                "A floor division needs a dividend of at least 0 and a divisor of at least 1."
            );
        }

        if (Exceeded || b is Constant { Value: 1 })
        {
            return a;
        }

        return a is Constant x && b is Constant y
            ? Number(x.Value / y.Value)
            : new FloorDivide(a, b, a.Low / b.High, a.High / b.Low);
    }

    public IntExpr Sum(IReadOnlyList<SumTerm> terms)
    {
        var kept = terms
            .Where(t => t.Value is not Constant { Value: 0 } && !(t.If is { } c && Bools.IsFalse(c)))
            .ToList();
        if (kept.Count == 0)
        {
            return Number(0);
        }

        if (kept.Count == 1 && kept[0].If is null)
        {
            return kept[0].Value;
        }

        if (kept.TrueForAll(t => t.If is null && t.Value is Constant))
        {
            return Number(kept.Aggregate(Int128.Zero, (sum, t) => sum + t.Value.Low));
        }

        Int128 low = 0;
        Int128 high = 0;
        foreach (var term in kept)
        {
            low += term.If is null ? term.Value.Low : Math.Min(0, term.Value.Low);
            high += term.If is null ? term.Value.High : Math.Max(0, term.Value.High);
        }

        return new GuardedSum(kept, Fit(low), Fit(high));
    }

    public static IntExpr Pick(IntExpr subject, IReadOnlyList<PickCase> cases)
    {
        var reached = cases.Where(c => c.From <= subject.High && c.To >= subject.Low).ToList();
        return reached.Count == 1
            ? Number(reached[0].Value)
            : new Pick(subject, reached, reached.Min(c => c.Value), reached.Max(c => c.Value));
    }

    /// <summary>The same value with limits that are known from elsewhere and tighter than those of its parts.</summary>
    public static IntExpr Within(IntExpr a, long low, long high) =>
        a is Constant || (a.Low >= low && a.High <= high)
            ? a
            : a with
            {
                Low = Math.Max(a.Low, low),
                High = Math.Min(a.High, high),
            };

    private static bool SameValue(IntExpr a, IntExpr b) =>
        ReferenceEquals(a, b)
        || (a, b) switch
        {
            (Constant x, Constant y) => x.Value == y.Value,
            (LineValue x, LineValue y) => x.Line == y.Line,
            (FieldValue x, FieldValue y) => x.Field == y.Field,
            _ => false,
        };

    private long Fit(BigInteger value) =>
        value >= -ScoringProgram.Limit && value <= ScoringProgram.Limit
            ? (long)value
            : Fit(value.Sign < 0 ? Int128.MinValue : Int128.MaxValue);

    /// <summary>Limits are within 2^53, so products of two and sums of all lines are within 2^127.</summary>
    private long Fit(Int128 value)
    {
        if (value >= -ScoringProgram.Limit && value <= ScoringProgram.Limit)
        {
            return (long)value;
        }

        Exceeded = true;
        return value < 0 ? -ScoringProgram.Limit : ScoringProgram.Limit;
    }
}

/// <summary>Conditions of the core program, folded where a limit decides them.</summary>
internal static class Bools
{
    public static readonly BoolExpr True = new IsEqual(new Constant(0), new Constant(0));
    public static readonly BoolExpr False = new IsEqual(new Constant(0), new Constant(1));

    public static bool IsTrue(BoolExpr b) => ReferenceEquals(b, True);

    public static bool IsFalse(BoolExpr b) => ReferenceEquals(b, False);

    public static BoolExpr Equal(IntExpr a, IntExpr b)
    {
        if (a.Low > b.High || a.High < b.Low)
        {
            return False;
        }

        if (ReferenceEquals(a, b) || (a.Low == a.High && b.Low == b.High))
        {
            return True;
        }

        return a is Choose { Then: Constant yes, Else: Constant no } choose && b is Constant wanted
            ? OfChoice(choose.If, yes.Value == wanted.Value, no.Value == wanted.Value)
            : new IsEqual(a, b);
    }

    /// <summary>Asking which of two constants was chosen is asking the condition.</summary>
    private static BoolExpr OfChoice(BoolExpr condition, bool whenTrue, bool whenFalse) =>
        (whenTrue, whenFalse) switch
        {
            (true, false) => condition,
            (false, true) => Not(condition),
            (true, true) => True,
            _ => False,
        };

    public static BoolExpr Equal(IntExpr a, long b) => Equal(a, IntMath.Number(b));

    public static BoolExpr AtMost(IntExpr a, IntExpr b)
    {
        if (a.High <= b.Low)
        {
            return True;
        }

        return a.Low > b.High ? False : new IsAtMost(a, b);
    }

    public static BoolExpr AtMost(IntExpr a, long b) => AtMost(a, IntMath.Number(b));

    public static BoolExpr AtLeast(IntExpr a, long b) => AtMost(IntMath.Number(b), a);

    public static BoolExpr Less(IntExpr a, IntExpr b) => Not(AtMost(b, a));

    public static BoolExpr And(BoolExpr a, BoolExpr b)
    {
        if (IsFalse(a) || IsFalse(b))
        {
            return False;
        }

        if (IsTrue(a) || ReferenceEquals(a, b))
        {
            return b;
        }

        return IsTrue(b) ? a : new BothOf(a, b);
    }

    public static BoolExpr Or(BoolExpr a, BoolExpr b)
    {
        if (IsTrue(a) || IsTrue(b))
        {
            return True;
        }

        if (IsFalse(a) || ReferenceEquals(a, b))
        {
            return b;
        }

        return IsFalse(b) ? a : new EitherOf(a, b);
    }

    public static BoolExpr Not(BoolExpr a) =>
        a switch
        {
            _ when IsTrue(a) => False,
            _ when IsFalse(a) => True,
            Not not => not.Inner,
            _ => new Not(a),
        };

    public static BoolExpr All(IEnumerable<BoolExpr> parts)
    {
        var list = parts.ToList();
        return list.Count == 0 ? True : IntMath.Balanced(list, And);
    }

    public static BoolExpr Any(IEnumerable<BoolExpr> parts)
    {
        var list = parts.ToList();
        return list.Count == 0 ? False : IntMath.Balanced(list, Or);
    }
}
