using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// A sum whose few untried parts are made up for in proportion to the points of the rest (core.md R3):
/// <c>lo + (sum − lo of the answered) · (hi − lo) / (hi − lo of the answered)</c>. Parts that are not applicable count neither
/// here nor there, so they shrink the range that is scaled to.
/// </summary>
internal sealed class ScaledUpLowering(ProgramBuilder program, AnswerLowering answers)
{
    private readonly IntMath _math = program.Math;

    /// <param name="parts">On one scale.</param>
    /// <param name="atMost">More untried parts than this leave no value.</param>
    public (Value Value, ScaledUpLines Lines) Lower(IReadOnlyList<Value> parts, int atMost)
    {
        var scope = program.Scope;
        var counted = parts.Select(p => Part(p)).ToList();
        var untried = Line(
            $"{scope}.untried-parts",
            Sum(counted, p => p.IsOpen, _ => IntMath.Number(1)),
            "how many parts are untried"
        );
        var points = Line(
            $"{scope}.points",
            Sum(counted, p => p.IsAnswered, p => _math.Subtract(p.Value, _math.Number(p.Low))),
            "what the answered parts came to above their least"
        );
        var most = Line(
            $"{scope}.most",
            Sum(counted, p => p.IsAnswered, p => _math.Number(p.High - p.Low)),
            "the most the answered parts could have come to above their least"
        );
        var lines = new ScaledUpLines(points.Line, most.Line, untried.Line);
        var span = Sum(counted, p => p.Applies, p => _math.Number(p.High - p.Low));
        var least = Sum(counted, p => p.Applies, p => _math.Number(p.Low));
        var under = IntMath.Most(most.Value, IntMath.Number(1));
        var over = _math.Add(_math.Multiply(least, under), _math.Multiply(points.Value, span));
        var end = new Ratio(over, under);
        return (
            AggregateLowering.Join(parts) with
            {
                State = State(parts, counted, untried.Value, most.Value, atMost),
                Low = end,
                High = end,
            },
            lines
        );
    }

    /// <summary>The least and the most the sum can be, in steps: parts that don't apply shrink it towards nothing.</summary>
    public (Rational Least, Rational Greatest) Range(IReadOnlyList<Value> parts)
    {
        var counted = parts.Select(Part).ToList();
        return (
            Sum(counted, p => p.Applies, p => _math.Number(p.Low)).Low,
            Sum(counted, p => p.Applies, p => _math.Number(p.High)).High
        );
    }

    private IntExpr State(
        IReadOnlyList<Value> parts,
        List<Counted> counted,
        IntExpr untried,
        IntExpr most,
        int atMost
    )
    {
        var reason = program.Name(
            $"{program.Scope}.untried",
            IntMath.Balanced([.. counted.Select(p => p.Reason)], IntMath.Most),
            "the gravest reason why a part is missing"
        );
        var isBlocked = Bools.Or(
            Bools.AtLeast(untried, atMost + 1),
            Bools.And(Bools.AtLeast(untried, 1), Bools.Equal(most, 0))
        );
        var isOut = Bools.All(parts.Select(p => Bools.Equal(p.State, (long)Model.State.NotApplicable)));
        var blocked = IntMath.Most(reason, IntMath.Number((long)Model.State.NotPlanned));
        return IntMath.Choose(
            isOut,
            IntMath.Number((long)Model.State.NotApplicable),
            IntMath.Choose(isBlocked, blocked, IntMath.Number(0))
        );
    }

    private Counted Part(Value part)
    {
        var isExact = part.IsPoint ? Bools.True : Bools.Equal(part.Low.Over, part.High.Over);
        var isBlocked = Bools.AtLeast(part.State, (long)Model.State.NotPlanned);
        return new Counted(
            part.Low.Over,
            part.Low.Over.Low,
            part.High.Over.High,
            Bools.Not(Bools.Equal(part.State, (long)Model.State.NotApplicable)),
            Bools.And(Bools.Equal(part.State, 0), isExact),
            Bools.Or(isBlocked, Bools.And(Bools.Equal(part.State, 0), Bools.Not(isExact))),
            Reads.Missing(part, answers)
        );
    }

    private IntExpr Sum(List<Counted> parts, Func<Counted, BoolExpr> when, Func<Counted, IntExpr> what) =>
        _math.Sum([.. parts.Select(p => new SumTerm(Bools.IsTrue(when(p)) ? null : when(p), what(p)))]);

    private (int Line, IntExpr Value) Line(string name, IntExpr value, string note)
    {
        var line = program.Line(name, value, note);
        return (line, ProgramBuilder.Reference(line, value));
    }

    private sealed record Counted(
        IntExpr Value,
        long Low,
        long High,
        BoolExpr Applies,
        BoolExpr IsAnswered,
        BoolExpr IsOpen,
        IntExpr Reason
    );
}
