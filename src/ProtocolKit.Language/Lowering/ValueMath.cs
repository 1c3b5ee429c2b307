using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// Interval arithmetic on lowered values: every operation gives the ends of the result from the ends of its
/// parts, exactly for monotone operations. Units and zero divisors are the caller's care.
/// </summary>
internal sealed class ValueMath(ProgramBuilder program)
{
    private readonly IntMath _math = program.Math;

    public Value Add(Value a, Value b)
    {
        (a, b) = (Small(a), Small(b));
        var scale = Rational.CommonStep(a.Scale, b.Scale);
        return Join(a, b) with
        {
            Low = AddEnds(a.Low, a.Scale, b.Low, b.Scale, scale),
            High = AddEnds(a.High, a.Scale, b.High, b.Scale, scale),
            Scale = scale,
            Better = a.Better == b.Better ? a.Better : Better.Unstated,
        };
    }

    public Value Negate(Value a)
    {
        a = Small(a);
        var low = new Ratio(_math.Negate(a.High.Over), a.High.Under);
        return a with
        {
            Low = low,
            High = a.IsPoint ? low : new Ratio(_math.Negate(a.Low.Over), a.Low.Under),
            Better = Better.Unstated,
        };
    }

    public Value Subtract(Value a, Value b) => Add(a, Negate(b)) with { Better = Better.Unstated };

    /// <summary>Null where both parts are fractions that change sign: nothing here can order their products.</summary>
    public Value? Multiply(Value a, Value b)
    {
        (a, b) = (Small(a), Small(b));
        var result = Join(a, b) with
        {
            Scale = a.Scale * b.Scale,
            Unit = a.Unit.Times(b.Unit),
            IsLiteral = a.IsLiteral && b.IsLiteral,
        };
        if (a.IsPoint && b.IsPoint)
        {
            var product = Product(a.Low, b.Low);
            return result with { Low = product, High = product };
        }

        if (a.IsConstant || b.IsConstant)
        {
            var (factor, other) = a.IsConstant ? (a, b) : (b, a);
            var (low, high) = (Product(factor.Low, other.Low), Product(factor.Low, other.High));
            return factor.Least.Sign >= 0
                ? result with
                {
                    Low = low,
                    High = high,
                }
                : result with
                {
                    Low = high,
                    High = low,
                };
        }

        if (a.Least.Sign >= 0 && b.Least.Sign >= 0)
        {
            return result with { Low = Product(a.Low, b.Low), High = Product(a.High, b.High) };
        }

        return a.IsWhole && b.IsWhole ? Corners(result, a, b) : null;
    }

    /// <summary>The divisor's limits exclude zero.</summary>
    public Value Divide(Value a, Value b)
    {
        if (b.Greatest.Sign < 0)
        {
            return Divide(Negate(a), Negate(b));
        }

        (a, b) = (Small(a), Small(b));
        var low = Quotient(a.Low, b.Low, b.High, b.IsPoint, lower: true);
        return Join(a, b) with
        {
            Low = low,
            High = a.IsPoint && b.IsPoint ? low : Quotient(a.High, b.Low, b.High, b.IsPoint, lower: false),
            Scale = a.Scale / b.Scale,
            Unit = a.Unit.Over(b.Unit),
            IsLiteral = a.IsLiteral && b.IsLiteral,
        };
    }

    public Value Smaller(Value a, Value b) => Ordered(a, b, IntMath.Least);

    public Value Larger(Value a, Value b) => Ordered(a, b, IntMath.Most);

    /// <summary>One of two values; where the condition is undecided, from the lower to the higher end of both.</summary>
    public Value Choose(BoolExpr surely, BoolExpr surelyNot, Value yes, Value no)
    {
        (surely, surelyNot) = (program.Small(surely), program.Small(surelyNot));
        var (a, b) = Align(yes, no);
        var either = Ordered(a, b, IntMath.Least).Low;
        var most = Ordered(a, b, IntMath.Most).High;
        return Join(a, b) with
        {
            State = IntMath.Choose(
                surely,
                a.State,
                IntMath.Choose(surelyNot, b.State, IntMath.Most(a.State, b.State))
            ),
            Low = new Ratio(
                IntMath.Choose(surely, a.Low.Over, IntMath.Choose(surelyNot, b.Low.Over, either.Over)),
                a.Low.Under
            ),
            High = new Ratio(
                IntMath.Choose(surely, a.High.Over, IntMath.Choose(surelyNot, b.High.Over, most.Over)),
                a.High.Under
            ),
            Scale = a.Scale,
            Unit = a.Unit,
        };
    }

    /// <summary>Rounds half up to whole steps, or only changes the scale where that is exact.</summary>
    public Value ToStep(Value a, Rational step)
    {
        a = Small(a);
        var low = Round(a.Low, a.Scale, step);
        var high = a.IsPoint ? low : Round(a.High, a.Scale, step);
        return a with { Low = low, High = high, Scale = step, IsLiteral = false };
    }

    /// <summary>Both over the common denominator of their scales; whole values only keep denominators of 1.</summary>
    public (Value A, Value B) Align(Value a, Value b)
    {
        var scale = Rational.CommonStep(a.Scale, b.Scale);
        var (x, y) = (Rescale(Small(a), scale), Rescale(Small(b), scale));
        if (x.IsWhole && y.IsWhole)
        {
            return (x, y);
        }

        // A common denominator lets ends be compared and chosen by their numerators alone.
        var lowUnder = _math.Multiply(x.Low.Under, y.Low.Under);
        var highUnder = _math.Multiply(x.High.Under, y.High.Under);
        return (
            x with
            {
                Low = new Ratio(_math.Multiply(x.Low.Over, y.Low.Under), lowUnder),
                High = new Ratio(_math.Multiply(x.High.Over, y.High.Under), highUnder),
            },
            y with
            {
                Low = new Ratio(_math.Multiply(y.Low.Over, x.Low.Under), lowUnder),
                High = new Ratio(_math.Multiply(y.High.Over, x.High.Under), highUnder),
            }
        );
    }

    /// <summary>True where one end is surely at most another: <c>a ≤ b</c>.</summary>
    public BoolExpr AtMost(Ratio a, Rational aScale, Ratio b, Rational bScale)
    {
        var scale = Rational.CommonStep(aScale, bScale);
        var left = _math.Multiply(_math.Multiply(a.Over, (aScale / scale).Numerator), b.Under);
        var right = _math.Multiply(_math.Multiply(b.Over, (bScale / scale).Numerator), a.Under);
        return Bools.AtMost(left, right);
    }

    /// <summary>A whole value's end, named, so that a sum of many parts reads as one line each.</summary>
    public Value Rescale(Value a, Rational scale)
    {
        if (a.Scale == scale)
        {
            return a;
        }

        var factor = (a.Scale / scale).Numerator;
        var low = new Ratio(_math.Multiply(a.Low.Over, factor), a.Low.Under);
        return a with
        {
            Low = low,
            High = a.IsPoint ? low : new Ratio(_math.Multiply(a.High.Over, factor), a.High.Under),
            Scale = scale,
        };
    }

    /// <summary>What is large is given a line of its own; both ends stay one and the same where they are.</summary>
    private Value Small(Value a)
    {
        var low = new Ratio(program.Small(a.Low.Over), program.Small(a.Low.Under));
        var state = program.Small(a.State);
        var high = a.IsPoint ? low : new Ratio(program.Small(a.High.Over), program.Small(a.High.Under));
        var isSmall = Same(low, a.Low) && Same(high, a.High) && ReferenceEquals(state, a.State);
        return isSmall ? a : a with { State = state, Low = low, High = high };
    }

    private static bool Same(Ratio a, Ratio b) =>
        ReferenceEquals(a.Over, b.Over) && ReferenceEquals(a.Under, b.Under);

    private static Value Join(Value a, Value b)
    {
        var reads = a.Reads;
        if (b.Reads.Count > 0)
        {
            reads =
                a.Reads.Count == 0
                    ? b.Reads
                    : new HashSet<string>(a.Reads.Concat(b.Reads), StringComparer.Ordinal);
        }

        return a with
        {
            State = IntMath.Most(a.State, b.State),
            Reads = reads,
            Better = Better.Unstated,
            Unit = a.IsLiteral ? b.Unit : a.Unit,
            IsLiteral = a.IsLiteral && b.IsLiteral,
        };
    }

    private Value Ordered(Value a, Value b, Func<IntExpr, IntExpr, IntExpr> pick)
    {
        var (x, y) = Align(a, b);
        var low = new Ratio(pick(x.Low.Over, y.Low.Over), x.Low.Under);
        var point = x.IsPoint && y.IsPoint;
        return Join(x, y) with
        {
            Low = low,
            High = point ? low : new Ratio(pick(x.High.Over, y.High.Over), x.High.Under),
            Scale = x.Scale,
            Better = a.Better == b.Better ? a.Better : Better.Unstated,
        };
    }

    private Ratio AddEnds(Ratio a, Rational aScale, Ratio b, Rational bScale, Rational scale)
    {
        var left = _math.Multiply(_math.Multiply(a.Over, (aScale / scale).Numerator), b.Under);
        var right = _math.Multiply(_math.Multiply(b.Over, (bScale / scale).Numerator), a.Under);
        return new Ratio(_math.Add(left, right), _math.Multiply(a.Under, b.Under));
    }

    private Ratio Product(Ratio a, Ratio b) =>
        new(_math.Multiply(a.Over, b.Over), _math.Multiply(a.Under, b.Under));

    private Value Corners(Value result, Value a, Value b)
    {
        IntExpr[] corners =
        [
            _math.Multiply(a.Low.Over, b.Low.Over),
            _math.Multiply(a.Low.Over, b.High.Over),
            _math.Multiply(a.High.Over, b.Low.Over),
            _math.Multiply(a.High.Over, b.High.Over),
        ];
        return result with
        {
            Low = new Ratio(IntMath.Balanced(corners, IntMath.Least), IntMath.Number(1)),
            High = new Ratio(IntMath.Balanced(corners, IntMath.Most), IntMath.Number(1)),
        };
    }

    /// <summary>The lower end divides a positive number by the larger divisor, a negative one by the smaller.</summary>
    private Ratio Quotient(Ratio a, Ratio smaller, Ratio larger, bool point, bool lower)
    {
        var whenPositive = point || lower ? larger : smaller;
        var whenNegative = point || !lower ? larger : smaller;
        if (a.Over.Low >= 0 || point)
        {
            return Over(a, whenPositive);
        }

        if (a.Over.High <= 0)
        {
            return Over(a, whenNegative);
        }

        var isPositive = Bools.AtLeast(a.Over, 0);
        var (yes, no) = (Over(a, whenPositive), Over(a, whenNegative));
        return new Ratio(
            IntMath.Choose(isPositive, yes.Over, no.Over),
            IntMath.Choose(isPositive, yes.Under, no.Under)
        );
    }

    private Ratio Over(Ratio a, Ratio b) =>
        new(_math.Multiply(a.Over, b.Under), _math.Multiply(a.Under, b.Over));

    /// <summary>
    /// <c>floor(N·u / (D·w) + 1/2)</c> as one floor division of non-negative numbers: a constant shift of whole steps
    /// is added before and taken off after.
    /// </summary>
    private Ratio Round(Ratio a, Rational scale, Rational step)
    {
        var factor = scale / step;
        var over = _math.Multiply(a.Over, factor.Numerator);
        if (a.IsWhole && factor.IsInteger)
        {
            return new Ratio(over, IntMath.Number(1));
        }

        var under = _math.Multiply(a.Under, factor.Denominator);
        var shift = over.Low >= 0 ? BigInteger.Zero : (-(BigInteger)over.Low / Math.Max(1, under.Low)) + 1;
        var doubled = _math.Add(_math.Multiply(over, 2), _math.Multiply(under, 1 + (2 * shift)));
        var floor = _math.FloorDivide(AtLeastZero(doubled), _math.Multiply(under, 2));
        if (shift.IsZero && floor is FloorDivide divide)
        {
            floor = divide with
            {
                Low = RoundedBound(over.Low, under.High),
                High = RoundedBound(over.High, under.Low),
            };
        }

        return new Ratio(_math.Subtract(floor, _math.Number(shift)), IntMath.Number(1));
    }

    /// <summary>
    /// A quotient of numbers that aren't negative is least at the least dividend over the largest divisor, whatever
    /// else the two share: tighter than the limits of the doubled dividend taken alone.
    /// </summary>
    private static long RoundedBound(long over, long under) =>
        (long)(((2 * (BigInteger)over) + under) / (2 * (BigInteger)under));

    /// <summary>
    /// The sum is never negative, but limits of its two parts taken alone may say so where over and under vary together.
    /// </summary>
    private static IntExpr AtLeastZero(IntExpr a) => IntMath.Most(a, IntMath.Number(0));
}
