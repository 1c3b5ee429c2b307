namespace ProtocolKit.Proof.Engine;

/// <summary>
/// One step of the pass over sets: what a joined part makes of the combinations before it. It can be run, and walked back from one
/// combination after it.
/// </summary>
internal abstract class SetJoin
{
    private readonly JoinStages _stages;
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
        _stages = new JoinStages(
            before.Rows.Columns,
            digits,
            child,
            values,
            conditions,
            layout.Columns.Concat(layout.Terms.Select(t => t.Part))
        );
        Kept = After = new SetState(layout.Columns, layout.Registers);
        Columns = [.. layout.Columns.Select(_stages.RegisterOf)];
        _terms = [.. layout.Terms.Select(t => (t.Stride, t.Factor, t.Unit, _stages.RegisterOf(t.Part)))];
        Frame = _stages.Frame;
    }

    public SetState Before { get; }
    public RowTable? Child { get; }
    public SetState After { get; }

    /// <summary>What the next step goes on from: all that was made, or what no other row is ahead of.</summary>
    public SetState Kept { get; private set; }
    protected int[] Digits => _stages.Digits;
    protected int[] Columns { get; }
    protected long[] Frame { get; }

    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public abstract void Run(WorkBudget budget);

    /// <summary>Keeps of the rows made what <see cref="Front"/> keeps; sets stay as they are.</summary>
    /// <param name="most">No more than so many, taken evenly.</param>
    public void Prune(Polarity polarity, WorkBudget budget, int most)
    {
        if (After.Registers.Count > 0)
        {
            return;
        }

        var rows = Front.Of(After.Rows, polarity, budget);
        if (rows.Count > most)
        {
            rows = rows.Only([.. Enumerable.Range(0, most).Select(i => (int)((long)i * rows.Count / most))]);
        }

        if (rows != After.Rows)
        {
            Kept = new SetState(rows);
        }
    }

    /// <summary>A combination before and a joined row that make a combination after; the first rows of the part that was joined come first.</summary>
    public abstract (int Row, long Place, int Joined) Back(int row, long place);

    /// <summary>Reads a row before; what can be joined to it.</summary>
    protected Joinable Read(int before, WorkBudget budget)
    {
        _stages.Read(Before.Rows, before);
        return _stages.Joinable(budget);
    }

    /// <summary>Works everything out with a row of what is joined; false where a condition fails.</summary>
    protected bool Join(Joinable joinable, int index) => _stages.Join(joinable, index);

    protected bool MakesRow(int row) => After.Rows.RowOf(Frame, Columns) == row;

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

    protected static (int Row, long Place, int Joined) Known((int Row, long Place, int Joined) found) =>
        found.Joined < int.MaxValue
            ? found
            : throw new InvalidOperationException("A row of the sets has nothing before it.");
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
            var joinable = Read(a, budget);
            for (var b = 0; b < joinable.Count; b++)
            {
                if (Join(joinable, b))
                {
                    After.Add(Frame, Columns, Before, a, Place());
                }
            }

            budget.Spend(joinable.Count * (1L + (Before.Used(a) / 64)));
        }
    }

    public override (int Row, long Place, int Joined) Back(int row, long place)
    {
        var found = (Row: 0, Place: 0L, Joined: int.MaxValue);
        for (var a = 0; a < Before.Rows.Count; a++)
        {
            var joinable = Read(a, WorkBudget.None);
            for (var b = 0; b < joinable.Count; b++)
            {
                if (
                    joinable.Child(b) < found.Joined
                    && Join(joinable, b)
                    && MakesRow(row)
                    && Before.Holds(a, place - Place())
                )
                {
                    found = (a, place - Place(), joinable.Child(b));
                }
            }
        }

        return Known(found);
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
            var joinable = Read(a, budget);
            foreach (var place in Before.Places(a))
            {
                ReadDigits(place);
                for (var b = 0; b < joinable.Count; b++)
                {
                    if (Join(joinable, b))
                    {
                        After.Set(Frame, Columns, Place());
                    }
                }

                budget.Spend(joinable.Count);
            }
        }
    }

    public override (int Row, long Place, int Joined) Back(int row, long place)
    {
        var found = (Row: 0, Place: 0L, Joined: int.MaxValue);
        for (var a = 0; a < Before.Rows.Count; a++)
        {
            var joinable = Read(a, WorkBudget.None);
            foreach (var from in Before.Places(a))
            {
                ReadDigits(from);
                for (var b = 0; b < joinable.Count; b++)
                {
                    if (
                        joinable.Child(b) < found.Joined
                        && Join(joinable, b)
                        && MakesRow(row)
                        && Place() == place
                    )
                    {
                        found = (a, from, joinable.Child(b));
                    }
                }
            }
        }

        return Known(found);
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
