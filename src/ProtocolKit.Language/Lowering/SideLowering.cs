using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Conditions on the weaker side: surely it is this one, surely it isn't.</summary>
internal sealed record SideTruths(Truth Left, Truth Right, IntExpr Weaker);

/// <summary>
/// Left minus right over sided tasks, and which side is the weaker one. A side that was not tried leaves its task without a difference:
/// the number is then missing, and the task may still turn out either way.
/// </summary>
internal sealed class SideLowering(ProgramBuilder program, AnswerLowering answers)
{
    private readonly IntMath _math = program.Math;

    /// <param name="sides">Left and right of each sided task, on one scale.</param>
    /// <param name="directions">Kept answers of direction.</param>
    public (Value Value, SideLines Lines, SideTruths Truths) Lower(
        IReadOnlyList<(BoundSide Task, Value Left, Value Right)> sides,
        IReadOnlyList<(BoundSide Task, AnswerGroup Group)> directions,
        int agree
    )
    {
        var shown = sides.Select(Shown).Concat(directions.Select(Shown)).ToList();
        var left = Count("left", shown.Select(s => s.Left));
        var right = Count("right", shown.Select(s => s.Right));
        var isOut = Bools.All(shown.Select(s => s.IsOut));
        var leftTruth = Name("left", Weaker(left, right, agree), isOut);
        var rightTruth = Name("right", Weaker(right, left, agree), isOut);
        var weaker = Code(leftTruth, rightTruth, isOut);
        var line = program.Line(
            $"{program.Scope}.weaker",
            weaker,
            "0 neither side, 1 the left, 2 the right, 3 undecided, 4 not applicable"
        );
        var lines = new SideLines(
            line,
            [.. shown.Select(s => new SideTaskLines(s.Task, s.LeftLine, s.RightLine))]
        );
        return (
            Difference(sides),
            lines,
            new SideTruths(leftTruth, rightTruth, ProgramBuilder.Reference(line, weaker))
        );
    }

    private Value Difference(IReadOnlyList<(BoundSide Task, Value Left, Value Right)> sides)
    {
        var parts = sides.SelectMany(s => new[] { s.Left, s.Right }).ToList();
        var missing = program.Name(
            $"{program.Scope}.missing",
            IntMath.Balanced([.. parts.Select(p => Reads.Missing(p, answers))], IntMath.Most),
            "the gravest reason why a side is missing"
        );
        var end = new Ratio(
            _math.Sum([
                .. sides.Select(s => new SumTerm(
                    Known(IsOut(s)),
                    _math.Subtract(s.Left.Low.Over, s.Right.Low.Over)
                )),
            ]),
            IntMath.Number(1)
        );
        var none = Bools.All(sides.Select(IsOut));
        return AggregateLowering.Join(parts) with
        {
            State = IntMath.Choose(
                Bools.AtLeast(missing, 1),
                missing,
                IntMath.Choose(none, IntMath.Number((long)State.NotApplicable), IntMath.Number(0))
            ),
            Low = end,
            High = end,
            Better = Better.Unstated,
        };
    }

    private static BoolExpr? Known(BoolExpr isOut) => Bools.IsFalse(isOut) ? null : Bools.Not(isOut);

    private static BoolExpr IsOut((BoundSide Task, Value Left, Value Right) side) =>
        Bools.Or(
            Bools.Equal(side.Left.State, (long)State.NotApplicable),
            Bools.Equal(side.Right.State, (long)State.NotApplicable)
        );

    /// <summary>What a sided task shows: the side with the lower value is the weaker one, where higher is better.</summary>
    private ShownSide Shown((BoundSide Task, Value Left, Value Right) side)
    {
        var isOut = IsOut(side);
        var isHigher = side.Task.Response.Better == Better.Higher;
        var (low, high) = isHigher ? (side.Left, side.Right) : (side.Right, side.Left);
        return Shown(side.Task, isOut, Below(low, high, isOut), Below(high, low, isOut));
    }

    private static Possible Below(Value a, Value b, BoolExpr isOut) =>
        new(
            Bools.And(Bools.Not(isOut), Bools.Less(a.High.Over, b.Low.Over)),
            Bools.And(Bools.Not(isOut), Bools.Less(a.Low.Over, b.High.Over))
        );

    private ShownSide Shown((BoundSide Task, AnswerGroup Group) direction)
    {
        var response = direction.Task.Response;
        var kept = direction.Group.Kept!;
        var isSame = response.WeakSide == WeakSide.Same;
        var isOut = Bools.Equal(kept.State, (long)State.NotApplicable);
        return Shown(direction.Task, isOut, Goes(isSame ? "left" : "right"), Goes(isSame ? "right" : "left"));

        Possible Goes(string where)
        {
            var option = response.Options.ToList().FindIndex(o => o.Name == where);
            var isThere = Bools.And(Bools.Equal(kept.State, 0), Bools.Equal(kept.Low, option));
            return new Possible(
                isThere,
                Bools.Or(isThere, Bools.AtLeast(kept.State, (long)State.NotPlanned))
            );
        }
    }

    private ShownSide Shown(BoundSide bound, BoolExpr isOut, Possible left, Possible right)
    {
        var task = bound.Task;
        var name = $"{program.Scope}.{task.Name}";
        var leftLine = program.Line(
            $"{name}.left",
            left.Surely,
            $"{task.Name} surely shows a weaker left side"
        );
        var rightLine = program.Line(
            $"{name}.right",
            right.Surely,
            $"{task.Name} surely shows a weaker right side"
        );
        return new ShownSide(
            task,
            isOut,
            left with
            {
                Surely = new LineCondition(leftLine),
            },
            right with
            {
                Surely = new LineCondition(rightLine),
            },
            leftLine,
            rightLine
        );
    }

    private (IntExpr Surely, IntExpr Maybe) Count(string side, IEnumerable<Possible> shown)
    {
        var list = shown.ToList();
        var one = IntMath.Number(1);
        return (
            program.Name(
                $"{program.Scope}.{side}.tasks",
                _math.Sum([.. list.Select(s => new SumTerm(s.Surely, one))]),
                $"how many tasks surely show a weaker {side} side"
            ),
            program.Name(
                $"{program.Scope}.{side}.tasks-at-most",
                _math.Sum([.. list.Select(s => new SumTerm(s.Maybe, one))]),
                $"how many tasks may show a weaker {side} side"
            )
        );
    }

    /// <summary>
    /// Enough tasks agree, and more than point to the other side. Tasks that may still turn out either way do so for the worst
    /// and for the best.
    /// </summary>
    private static Truth Weaker(
        (IntExpr Surely, IntExpr Maybe) own,
        (IntExpr Surely, IntExpr Maybe) other,
        int agree
    ) =>
        new(
            Bools.And(Bools.AtLeast(own.Surely, agree), Bools.Less(other.Maybe, own.Surely)),
            Bools.Not(Bools.And(Bools.AtLeast(own.Maybe, agree), Bools.Less(other.Surely, own.Maybe)))
        );

    private Truth Name(string side, Truth truth, BoolExpr isOut) =>
        new(
            program.Name($"{program.Scope}.weaker-{side}", truth.Surely, $"the {side} side is surely weaker"),
            program.Name(
                $"{program.Scope}.weaker-{side}.not",
                truth.SurelyNot,
                $"the {side} side is surely not weaker"
            )
        )
        {
            State = IntMath.Choose(isOut, IntMath.Number(1), IntMath.Number(0)),
        };

    private static IntExpr Code(Truth left, Truth right, BoolExpr isOut)
    {
        var open = IntMath.Choose(
            Bools.And(left.SurelyNot, right.SurelyNot),
            IntMath.Number((long)WeakerSide.Neither),
            IntMath.Number((long)WeakerSide.Undecided)
        );
        var code = IntMath.Choose(
            left.Surely,
            IntMath.Number((long)WeakerSide.Left),
            IntMath.Choose(right.Surely, IntMath.Number((long)WeakerSide.Right), open)
        );
        return IntMath.Choose(isOut, IntMath.Number((long)WeakerSide.NotApplicable), code);
    }

    private sealed record Possible(BoolExpr Surely, BoolExpr Maybe);

    private sealed record ShownSide(
        ProtocolTask Task,
        BoolExpr IsOut,
        Possible Left,
        Possible Right,
        int LeftLine,
        int RightLine
    );
}
