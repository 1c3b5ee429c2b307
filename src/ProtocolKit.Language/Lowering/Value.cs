using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// A fraction of two core values times the scale of the value that holds it. The divisor is at least 1 by its limits.
/// </summary>
internal readonly record struct Ratio(IntExpr Over, IntExpr Under)
{
    public bool IsWhole => Under is Constant { Value: 1 };
}

/// <summary>
/// A surface value while it is lowered: state and both ends. Each end is <c>Over / Under × Scale</c>.
/// Both ends are one and the same object where they coincide for every record.
/// </summary>
internal sealed record Value
{
    private static readonly HashSet<string> NoReads = [];

    public required IntExpr State { get; init; }
    public required Ratio Low { get; init; }
    public required Ratio High { get; init; }
    public Rational Scale { get; init; } = 1;
    public Unit Unit { get; init; } = Unit.One;
    public Better Better { get; init; }

    /// <summary>A bare number takes any scale; it may meet only pure quantities.</summary>
    public bool IsLiteral { get; init; }

    /// <summary>Where a bare number stands in the text.</summary>
    public Place WrittenAt { get; init; }

    /// <summary>Keys of the answers it rests on.</summary>
    public IReadOnlySet<string> Reads { get; init; } = NoReads;

    public bool IsPoint => ReferenceEquals(Low.Over, High.Over) && ReferenceEquals(Low.Under, High.Under);
    public bool IsWhole => Low.IsWhole && High.IsWhole;
    public bool IsConstant => IsPoint && Low is { Over: Constant, Under: Constant };
    public bool IsAlwaysKnown => State is Constant { Value: 0 };

    /// <summary>The smallest and largest value proved possible, in the unit.</summary>
    public Rational Least => Bound(Low, low: true);
    public Rational Greatest => Bound(High, low: false);

    public static Value Of(Rational number, IntMath math)
    {
        var end = new Ratio(math.Number(number.Numerator), IntMath.Number(1));
        return new Value
        {
            State = IntMath.Number(0),
            Low = end,
            High = end,
            Scale = new Rational(1, number.Denominator),
            IsLiteral = true,
        };
    }

    private Rational Bound(Ratio ratio, bool low)
    {
        var over = low ? ratio.Over.Low : ratio.Over.High;
        var under = (over < 0) == low ? ratio.Under.Low : ratio.Under.High;
        return new Rational(over, under) * Scale;
    }
}
