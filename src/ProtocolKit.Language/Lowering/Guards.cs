using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// What enclosing guards say of names and like expressions: at least or at most a constant. Nothing cleverer, so
/// that a better prover never changes what compiles.
/// </summary>
internal sealed class Guards
{
    public static readonly Guards None = new([]);

    private readonly Dictionary<string, (Rational? Low, bool LowOpen)> _bounds;

    private Guards(Dictionary<string, (Rational? Low, bool LowOpen)> bounds) => _bounds = bounds;

    public bool IsEmpty => _bounds.Count == 0;

    /// <summary>With what a condition says when it holds, or, for a single comparison, when it doesn't.</summary>
    public Guards With(ConditionNode condition, bool holds)
    {
        var bounds = new Dictionary<string, (Rational? Low, bool LowOpen)>(_bounds, StringComparer.Ordinal);
        Collect(condition, holds, bounds);
        return new Guards(bounds);
    }

    /// <summary>The least value on its step that the guards allow, where they give one above zero.</summary>
    public Rational? LeastOf(ExpressionNode node, Rational step)
    {
        if (!_bounds.TryGetValue(KeyOf(node), out var bound) || bound.Low is not { } low)
        {
            return null;
        }

        if (low.TryCountSteps(step, out _))
        {
            return bound.LowOpen ? low + step : low;
        }

        var steps = low / step;
        return new Rational((steps.Numerator / steps.Denominator) + (steps.Sign < 0 ? 0 : 1), 1) * step;
    }

    private static void Collect(
        ConditionNode condition,
        bool holds,
        Dictionary<string, (Rational? Low, bool LowOpen)> bounds
    )
    {
        switch (condition)
        {
            case GroupNode group:
                Collect(group.Inner, holds, bounds);
                break;
            case NotNode negation:
                Collect(negation.Inner, !holds, bounds);
                break;
            case AndNode both when holds:
                Collect(both.Left, true, bounds);
                Collect(both.Right, true, bounds);
                break;
            case OrNode either when !holds:
                Collect(either.Left, false, bounds);
                Collect(either.Right, false, bounds);
                break;
            case CompareNode { Right: NumberNode number } compare:
                Keep(bounds, compare.Left, holds ? compare.How : Opposite(compare.How), number.Value);
                break;
            case CompareNode { Left: NumberNode number } compare:
                Keep(
                    bounds,
                    compare.Right,
                    Mirror(holds ? compare.How : Opposite(compare.How)),
                    number.Value
                );
                break;
        }
    }

    private static void Keep(
        Dictionary<string, (Rational? Low, bool LowOpen)> bounds,
        ExpressionNode node,
        Comparison how,
        Rational number
    )
    {
        bounds.TryGetValue(KeyOf(node), out var old);
        switch (how)
        {
            case Comparison.Greater
            or Comparison.AtLeast
            or Comparison.Equal
                when old.Low is null || old.Low < number || (old.Low == number && how == Comparison.Greater):
                bounds[KeyOf(node)] = old with { Low = number, LowOpen = how == Comparison.Greater };
                break;
        }
    }

    private static Comparison Opposite(Comparison how) =>
        how switch
        {
            Comparison.Equal => Comparison.NotEqual,
            Comparison.NotEqual => Comparison.Equal,
            Comparison.Less => Comparison.AtLeast,
            Comparison.AtMost => Comparison.Greater,
            Comparison.Greater => Comparison.AtMost,
            _ => Comparison.Less,
        };

    private static Comparison Mirror(Comparison how) =>
        how switch
        {
            Comparison.Less => Comparison.Greater,
            Comparison.AtMost => Comparison.AtLeast,
            Comparison.Greater => Comparison.Less,
            Comparison.AtLeast => Comparison.AtMost,
            _ => how,
        };

    /// <summary>The same expression written the same way; places play no part.</summary>
    private static string KeyOf(ExpressionNode node) =>
        node switch
        {
            NameNode name => name.Name,
            NumberNode number => number.Value.ToString(),
            NegateNode negate => $"-({KeyOf(negate.Inner)})",
            BinaryNode binary => $"({KeyOf(binary.Left)} {binary.Operator} {KeyOf(binary.Right)})",
            _ => $"?{node.GetHashCode()}",
        };
}
