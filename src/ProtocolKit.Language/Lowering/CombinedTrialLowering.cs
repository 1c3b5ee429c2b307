using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>An answer in steps of its own instead of its field's encoding.</summary>
/// <param name="Lowest">The least it can be, in steps, for where it is untried.</param>
internal sealed record SteppedAnswer(IntExpr State, IntExpr Value, Rational Step, long Lowest, long Highest);

/// <summary>
/// The mean, median or sum of one answer over the trials, rounded once (core.md R10, R11). All trials are needed, or those given.
/// </summary>
internal sealed class CombinedTrialLowering(ProgramBuilder program)
{
    private readonly IntMath _math = program.Math;
    private readonly ValueMath _values = new(program);

    public SteppedAnswer Lower(AnswerGroup group, TrialPlan plan)
    {
        var response = group.Response;
        var states = group.Trials.Select(t => (IntExpr)t.State).ToList();
        var counts = states
            .Select(s => plan.OfThoseGiven ? Bools.Equal(s, (long)State.Known) : null)
            .ToList();
        var points = group.Trials.Select(t => PointsOf(response, t.Value)).ToList();
        var step = plan.Step ?? response.Step;
        var value = Rounded(Together(group, plan, points, counts), response, step);
        var (low, high) = Range(points, plan);
        var (lowest, highest) = (
            (long)(response.Step * low / step).RoundHalfUp(),
            (long)(response.Step * high / step).RoundHalfUp()
        );
        var gravest = IntMath.Balanced(states, IntMath.Most);
        return new SteppedAnswer(
            plan.OfThoseGiven
                ? IntMath.Choose(Bools.Any(counts.Select(c => c!)), IntMath.Number(0), gravest)
                : gravest,
            IntMath.Within(value, lowest, highest),
            step,
            lowest,
            highest
        );
    }

    private IntExpr PointsOf(Response response, FieldValue field) =>
        response.Kind == ResponseKind.Rating ? Encoding.Points(response, field, _math) : field;

    private Ratio Together(AnswerGroup group, TrialPlan plan, List<IntExpr> points, List<BoolExpr?> counts)
    {
        if (plan.Keep == Keep.Median)
        {
            return new MedianLowering(program).Lower($"kept.{group.Key}", points, counts);
        }

        var sum = _math.Sum([.. points.Select((p, i) => new SumTerm(counts[i], p))]);
        if (plan.Keep == Keep.Sum)
        {
            return new Ratio(sum, IntMath.Number(1));
        }

        var number = _math.Sum([.. counts.Select(c => new SumTerm(c, IntMath.Number(1)))]);
        return new Ratio(sum, IntMath.Most(number, IntMath.Number(1)));
    }

    private IntExpr Rounded(Ratio ratio, Response response, Rational step)
    {
        var value = new Value
        {
            State = IntMath.Number(0),
            Low = ratio,
            High = ratio,
            Scale = response.Step,
        };
        return _values.ToStep(value, step).Low.Over;
    }

    /// <summary>The least and the most in the answer's steps; a sum may be of one trial or of all.</summary>
    private static (long Low, long High) Range(List<IntExpr> points, TrialPlan plan)
    {
        var (low, high) = (points[0].Low, points[0].High);
        return plan.Keep == Keep.Sum
            ? (Math.Min(low, plan.Count * low), Math.Max(high, plan.Count * high))
            : (low, high);
    }
}
