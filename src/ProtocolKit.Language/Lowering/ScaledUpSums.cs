using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <param name="Least">The least the sum can be, in the unit of its parts.</param>
internal sealed record ScaledUpSum(ScaledUpLines Lines, Rational Least, Rational Greatest, Unit Unit)
{
    /// <summary>The rounded value within its proved limits: making up for parts never leaves the range of the sum.</summary>
    public Value Within(Value value)
    {
        var steps = Unit.Factor / value.Unit.Factor / value.Scale;
        var end = value.Low with
        {
            Over = IntMath.Within(
                value.Low.Over,
                (long)(Least * steps).RoundHalfUp(),
                (long)(Greatest * steps).RoundHalfUp()
            ),
        };
        return value with { Low = end, High = end };
    }
}

/// <summary>Values that say <c>untried scaled up</c>: sums of more parts than may be untried.</summary>
internal sealed class ScaledUpSums(
    ProgramBuilder program,
    ExpressionLowering expressions,
    AnswerLowering answers,
    DiagnosticBag diagnostics
)
{
    /// <summary>The value before it is rounded, or null after reporting.</summary>
    public Value? Lower(
        OutcomeBlock block,
        ExpressionNode node,
        BoundPolicy policy,
        LoweringScope scope,
        out ScaledUpSum? sum
    )
    {
        sum = null;
        if (node is not AggregateNode { Kind: Aggregate.Sum } list)
        {
            Report(policy, ScoreMessages.ScaledFormula(block.Name.Text));
            return null;
        }

        if (expressions.PartsOf(list, scope) is not { } parts)
        {
            return null;
        }

        if (policy.AtMost >= parts.Count)
        {
            Report(policy, ScoreMessages.ScaledFromNothing(block.Name.Text, policy.AtMost, parts.Count));
            return null;
        }

        var lowering = new ScaledUpLowering(program, answers);
        var (value, lines) = lowering.Lower(parts, policy.AtMost);
        var (least, greatest) = lowering.Range(parts);
        sum = new ScaledUpSum(lines, least * value.Scale, greatest * value.Scale, value.Unit);
        return value;
    }

    private void Report(BoundPolicy policy, Message message) =>
        diagnostics.Report(policy.Line!.Source, policy.Line!.Place, message);
}
