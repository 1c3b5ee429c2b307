using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Everything a measure or score reads, in its formula and in its conditions.</summary>
internal sealed class Reads(AnswerLowering answers)
{
    private readonly Dictionary<string, AnswerGroup> _answers = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Value> _outcomes = new(StringComparer.Ordinal);
    private readonly HashSet<string> _keys = new(StringComparer.Ordinal);

    /// <summary>Keys of the answers it rests on, its own and those of the values it reads.</summary>
    public IReadOnlySet<string> Keys => _keys;

    public void Add(AnswerGroup group)
    {
        _answers[group.Key] = group;
        _keys.Add(group.Key);
    }

    public Value Add(string outcome, Value value)
    {
        if (_outcomes.TryAdd(outcome, value))
        {
            _keys.UnionWith(value.Reads);
        }

        return value;
    }

    /// <summary>
    /// The gravest reason why any of it is missing, 0 where nothing is. A value beneath that is blocked or bounded is
    /// missing for the gravest reason among its own answers.
    /// </summary>
    public IntExpr Reason()
    {
        var own = _answers
            .Values.OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => Untried(g.Kept!.State));
        var beneath = _outcomes
            .OrderBy(o => o.Key, StringComparer.Ordinal)
            .Select(o => Missing(o.Value, answers));
        return Gravest([.. own, .. beneath]);
    }

    private static IntExpr Untried(IntExpr state) =>
        IntMath.Choose(Bools.AtLeast(state, (long)State.NotPlanned), state, IntMath.Number(0));

    private static IntExpr Gravest(List<IntExpr> reasons) =>
        reasons.Count == 0 ? IntMath.Number(0) : IntMath.Balanced(reasons, IntMath.Most);

    /// <summary>The gravest reason why a value is blocked or lies between two ends; 0 where it is neither.</summary>
    public static IntExpr Missing(Value value, AnswerLowering answers)
    {
        var blocked = Untried(value.State);
        if (value.IsPoint)
        {
            return blocked;
        }

        var exact = Bools.And(
            Bools.Equal(value.Low.Over, value.High.Over),
            Bools.Equal(value.Low.Under, value.High.Under)
        );
        var open = Gravest([
            .. value.Reads.Order(StringComparer.Ordinal).Select(k => Untried(answers.Of(k).Kept!.State)),
        ]);
        return IntMath.Most(blocked, IntMath.Choose(exact, IntMath.Number(0), open));
    }
}
