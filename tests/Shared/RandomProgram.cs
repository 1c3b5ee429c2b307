using ProtocolKit.Model;
using static ProtocolKit.TestPrograms.Expr;

namespace ProtocolKit.TestPrograms;

/// <summary>Random well-bounded programs: every kind of expression, small and very large numbers, both signs.</summary>
internal sealed class RandomProgram
{
    private static readonly (long Low, long High)[] Bounds =
    [
        (0, 1),
        (0, 2),
        (0, 60),
        (5, 150),
        (-10, 140),
        (-7, -1),
        (0, 94_906_265),
        (-94_906_265, 94_906_265),
        (0, ScoringProgram.Limit),
        (-ScoringProgram.Limit, ScoringProgram.Limit),
        (ScoringProgram.Limit - 3, ScoringProgram.Limit),
    ];

    private readonly Random _random;
    private readonly ProgramBuilder _builder = new();
    private readonly List<IntExpr> _values = [];
    private readonly List<BoolExpr> _conditions = [];

    private RandomProgram(int seed) => _random = new Random(seed);

    public static Protocol From(int seed, int lines = 40) => new RandomProgram(seed).Build(lines);

    private Protocol Build(int lines)
    {
        for (var i = 0; i < 6; i++)
        {
            var (low, high) = Bounds[_random.Next(Bounds.Length)];
            _values.Add(_builder.Number(FormattableString.Invariant($"q{i}"), low, high));
        }

        for (var i = 0; i < lines; i++)
        {
            var name = FormattableString.Invariant($"line-{i}.x");
            if (_random.Next(3) == 0)
            {
                _conditions.Add(_builder.Line(name, Condition(3)));
            }
            else
            {
                _values.Add(_builder.Line(name, Value(4)));
            }
        }

        return _builder.Build();
    }

    /// <summary>An expression whose every part stays within the limit; a simpler one where it would not.</summary>
    private IntExpr Value(int depth)
    {
        if (depth == 0 || _random.Next(6) == 0)
        {
            return Leaf();
        }

        var value = Compound(depth - 1);
        return value is not null && IsWithin(value.Low) && IsWithin(value.High) ? value : Leaf();
    }

    private IntExpr Leaf() => _random.Next(3) == 0 ? Const(Number()) : _values[_random.Next(_values.Count)];

    private long Number() =>
        _random.Next(4) switch
        {
            0 => _random.Next(-3, 4),
            1 => _random.Next(-1000, 1000),
            2 => _random.NextInt64(-ScoringProgram.Limit, ScoringProgram.Limit + 1),
            _ => ScoringProgram.Limit,
        };

    private IntExpr? Compound(int depth) =>
        _random.Next(10) switch
        {
            0 or 1 => Plus(Value(depth), Value(depth)),
            2 => Minus(Value(depth), Value(depth)),
            3 => Product(Value(depth), Value(depth)),
            4 => Smaller(Value(depth), Value(depth)),
            5 => Larger(Value(depth), Value(depth)),
            6 => If(Condition(depth), Value(depth), Value(depth)),
            7 => Quotient(Value(depth), Value(depth)),
            8 => Terms(depth),
            _ => Cases(Value(depth)),
        };

    private static IntExpr? Product(IntExpr a, IntExpr b) =>
        Size(a) * Size(b) <= ScoringProgram.Limit ? Times(a, b) : null;

    private static Int128 Size(IntExpr a) => Int128.Max(Int128.Abs(a.Low), Int128.Abs(a.High));

    /// <summary>As the compiler does it: the dividend lifted to 0 or above, the divisor to 1 or above.</summary>
    private static IntExpr? Quotient(IntExpr a, IntExpr b)
    {
        var lifted = a.Low < 0 ? Minus(a, Const(a.Low)) : a;
        return IsWithin(lifted.High) ? Floor(lifted, Larger(b, Const(1))) : null;
    }

    private IntExpr? Terms(int depth)
    {
        var terms = Enumerable
            .Range(0, _random.Next(0, 7))
            .Select(_ => (_random.Next(3) == 0 ? null : Condition(depth), Value(depth)))
            .ToArray();
        Int128 low = 0;
        Int128 high = 0;
        foreach (var (_, value) in terms)
        {
            low += Math.Min(0, value.Low);
            high += Math.Max(0, value.High);
        }

        return low < -ScoringProgram.Limit || high > ScoringProgram.Limit ? null : Sum(terms);
    }

    private IntExpr Cases(IntExpr subject)
    {
        var middle = Larger(Smaller(subject, Const(5)), Const(-5));
        return _random.Next(2) == 0
            ? Case(middle, (-5, -1, Number()), (0, 0, Number()), (1, 5, Number()))
            : Case(middle, (-5, -5, 1), (-4, 0, Number()), (1, 1, -1), (2, 4, Number()), (5, 5, 0));
    }

    private BoolExpr Condition(int depth) =>
        _random.Next(depth == 0 ? 2 : 6) switch
        {
            0 => Same(Leaf(), Leaf()),
            1 => AtMost(Leaf(), Leaf()),
            2 => _conditions.Count > 0
                ? _conditions[_random.Next(_conditions.Count)]
                : No(Same(Leaf(), Leaf())),
            3 => And(Condition(depth - 1), Condition(depth - 1)),
            4 => Or(Condition(depth - 1), Condition(depth - 1)),
            _ => _random.Next(2) == 0 ? No(Condition(depth - 1)) : AtMost(Value(depth - 1), Value(depth - 1)),
        };

    private static bool IsWithin(long value) => value is >= -ScoringProgram.Limit and <= ScoringProgram.Limit;
}
