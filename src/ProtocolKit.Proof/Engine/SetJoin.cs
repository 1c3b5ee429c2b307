namespace ProtocolKit.Proof.Engine;

/// <summary>
/// One step of the pass over sets: what a joined part makes of the combinations before it. It can be run, and walked back from one
/// combination after it.
/// </summary>
internal abstract class SetJoin
{
    private readonly StepCode _code = new();
    private readonly int[] _kept;
    private readonly int _joined;
    private readonly long _offset;
    private readonly (long Stride, long Factor, long Unit, int Register)[] _terms;

    /// <param name="child">Null: nothing is joined.</param>
    /// <param name="digits">Registers whose values are known one by one.</param>
    protected SetJoin(
        SetState before,
        RowTable? child,
        IEnumerable<Node> digits,
        IEnumerable<Node> values,
        IReadOnlySet<Node> conditions,
        SetLayout layout
    )
    {
        (Before, Child, _offset) = (before, child, layout.Offset);
        _kept = [.. before.Rows.Columns.Select(_code.Input)];
        Digits = [.. digits.Select(_code.Input)];
        _joined = _code.Inputs(child?.Columns ?? []);
        _code.Add(values, conditions);
        Kept = After = new SetState(layout.Columns, layout.Registers);
        Columns = [.. layout.Columns.Select(_code.RegisterOf)];
        _terms = [.. layout.Terms.Select(t => (t.Stride, t.Factor, t.Unit, _code.RegisterOf(t.Part)))];
        Frame = _code.Frame();
    }

    public SetState Before { get; }
    public RowTable? Child { get; }
    public SetState After { get; }

    /// <summary>What the next step goes on from: all that was made, or what no other row is ahead of.</summary>
    public SetState Kept { get; private set; }
    protected int[] Digits { get; }
    protected int[] Columns { get; }
    protected long[] Frame { get; }
    protected int ChildCount => Child?.Count ?? 1;

    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public abstract void Run(WorkBudget budget);

    /// <summary>Keeps of the rows made what <see cref="Front"/> keeps; sets stay as they are.</summary>
    public void Prune(Polarity polarity, WorkBudget budget)
    {
        if (
            After.Registers.Count == 0
            && Front.Of(After.Rows, polarity, budget) is var rows
            && rows != After.Rows
        )
        {
            Kept = new SetState(rows);
        }
    }

    /// <summary>A combination before and a joined row that make a combination after; the first rows of the part that was joined come first.</summary>
    public abstract (int Row, long Place, int Joined) Back(int row, long place);

    protected void Read(int before) => Before.Rows.Read(before, Frame, _kept);

    /// <summary>Works everything out with a row of what is joined; false where a condition fails.</summary>
    protected bool Join(int child)
    {
        Child?.Copy(child, Frame, _joined);
        return _code.Run(Frame);
    }

    protected bool MakesRow(int row) => After.Rows.Find(Frame, Columns).Row == row;

    /// <summary>Where the combination stands, or how far sets are moved.</summary>
    protected long Place()
    {
        var place = _offset;
        foreach (var (stride, factor, unit, register) in _terms)
        {
            place += stride * (factor * Frame[register] / unit);
        }

        return place;
    }

    protected static InvalidOperationException Lost() => new("A row of the sets has nothing before it.");
}

/// <summary>Registers grow by what is joined: sets are moved as wholes.</summary>
internal sealed class MoveJoin(
    SetState before,
    RowTable child,
    StepReads reads,
    List<Node> live,
    Func<Node, Span?> spanOf,
    IReadOnlySet<Node> conditions
) : SetJoin(before, child, [], reads.Plain, conditions, new SetLayout(before.Registers, reads, live, spanOf))
{
    public override void Run(WorkBudget budget)
    {
        for (var a = 0; a < Before.Rows.Count; a++)
        {
            Read(a);
            for (var b = 0; b < ChildCount; b++)
            {
                if (Join(b))
                {
                    After.Add(Frame, Columns, Before, a, Place());
                }
            }

            budget.Spend(ChildCount * (1L + (Before.Used(a) / 64)));
        }
    }

    public override (int Row, long Place, int Joined) Back(int row, long place)
    {
        for (var b = 0; b < ChildCount; b++)
        {
            for (var a = 0; a < Before.Rows.Count; a++)
            {
                Read(a);
                if (Join(b) && MakesRow(row) && Before.Holds(a, place - Place()))
                {
                    return (a, place - Place(), b);
                }
            }
        }

        throw Lost();
    }
}

/// <summary>Every combination by itself.</summary>
internal sealed class LookJoin(
    SetState before,
    RowTable? child,
    IEnumerable<Node> values,
    List<Node> live,
    Func<Node, Span?> spanOf,
    IReadOnlySet<Node> conditions
)
    : SetJoin(
        before,
        child,
        before.Registers.Select(r => r.Node),
        values,
        conditions,
        new SetLayout([], new StepReads([], []), live, spanOf)
    )
{
    public override void Run(WorkBudget budget)
    {
        for (var a = 0; a < Before.Rows.Count; a++)
        {
            Read(a);
            foreach (var place in Before.Places(a))
            {
                ReadDigits(place);
                for (var b = 0; b < ChildCount; b++)
                {
                    if (Join(b))
                    {
                        After.Set(Frame, Columns, Place());
                    }
                }

                budget.Spend(ChildCount);
            }
        }
    }

    public override (int Row, long Place, int Joined) Back(int row, long place)
    {
        for (var b = 0; b < ChildCount; b++)
        {
            for (var a = 0; a < Before.Rows.Count; a++)
            {
                Read(a);
                foreach (var from in Before.Places(a))
                {
                    ReadDigits(from);
                    if (Join(b) && MakesRow(row) && Place() == place)
                    {
                        return (a, from, b);
                    }
                }
            }
        }

        throw Lost();
    }

    private void ReadDigits(long place)
    {
        for (var i = 0; i < Digits.Length; i++)
        {
            var register = Before.Registers[i];
            var digit = place / register.Stride % register.Width;
            Frame[Digits[i]] = register.Node.Low + (digit * register.Unit);
        }
    }
}
