using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>
/// Looks for values that could pass a target's largest exact whole number on the way. Sums count with all
/// their positive and with all their negative parts, so that a target may add them up in groups.
/// </summary>
internal static class ProgramLimits
{
    /// <summary>The first line with such a value, or null.</summary>
    public static ProgramLine? FirstBeyond(ScoringProgram program, long limit) =>
        program.Lines.FirstOrDefault(l =>
            l.Value is { } value ? IsBeyond(value, limit) : IsBeyond(l.Condition!, limit)
        );

    private static bool IsBeyond(IntExpr value, long limit)
    {
        if (value.Low < -limit || value.High > limit)
        {
            return true;
        }

        return value switch
        {
            Add a => IsBeyond(a.Left, limit) || IsBeyond(a.Right, limit),
            Subtract s => IsBeyond(s.Left, limit) || IsBeyond(s.Right, limit),
            Multiply m => IsBeyond(m.Left, limit) || IsBeyond(m.Right, limit),
            Least l => IsBeyond(l.Left, limit) || IsBeyond(l.Right, limit),
            Most m => IsBeyond(m.Left, limit) || IsBeyond(m.Right, limit),
            FloorDivide d => IsBeyond(d.Dividend, limit) || IsBeyond(d.Divisor, limit),
            Choose c => IsBeyond(c.If, limit) || IsBeyond(c.Then, limit) || IsBeyond(c.Else, limit),
            GuardedSum s => IsBeyond(s, limit),
            Pick p => IsBeyond(p.Subject, limit),
            _ => false,
        };
    }

    private static bool IsBeyond(GuardedSum sum, long limit)
    {
        Int128 low = 0;
        Int128 high = 0;
        foreach (var term in sum.Terms)
        {
            low += Math.Min(0, term.Value.Low);
            high += Math.Max(0, term.Value.High);
            if (IsBeyond(term.Value, limit) || (term.If is { } condition && IsBeyond(condition, limit)))
            {
                return true;
            }
        }

        return low < -limit || high > limit;
    }

    private static bool IsBeyond(BoolExpr condition, long limit) =>
        condition switch
        {
            IsEqual e => IsBeyond(e.Left, limit) || IsBeyond(e.Right, limit),
            IsAtMost a => IsBeyond(a.Left, limit) || IsBeyond(a.Right, limit),
            BothOf b => IsBeyond(b.Left, limit) || IsBeyond(b.Right, limit),
            EitherOf e => IsBeyond(e.Left, limit) || IsBeyond(e.Right, limit),
            Not n => IsBeyond(n.Inner, limit),
            _ => false,
        };
}
