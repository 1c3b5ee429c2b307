namespace ProtocolKit.Proof.Engine;

/// <summary>
/// The forward pass for sets alone: which rows there are, neither the smallest record behind each nor how many. Sums that are only added
/// to are kept as bits, so that a whole section's answers move many combinations at once (core.md, section 3). Walking back through
/// the steps gives a record behind a row.
/// </summary>
/// <param name="polarity">What is asked for: rows that another is ahead of are dropped; null: every row is wanted.</param>
/// <param name="few">Whether only a few rows of large parts of the sheet are kept, so that some record may be missed.</param>
internal sealed class SetPass(
    Plan plan,
    Space space,
    long limit,
    KnownParts known,
    Polarity? polarity = null,
    bool few = false
)
{
    private const int MostOfATask = 8;
    private const int LeavesOfASection = 60;
    private const int Few = 200;

    // A question about more of the sheet may take more work.
    private const int LeavesOfALimit = 100;

    private readonly Dictionary<Scope, RowTable> _tables = [];
    private readonly Dictionary<Scope, SharedRows> _shared = [];
    private readonly HashSet<Node> _conditions = [.. plan.Conditions];
    private WorkBudget _budget = new(
        limit * Math.Max(1, plan.Root.FromTheLeaves().Count(s => s.Leaf >= 0) / LeavesOfALimit)
    );

    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public RowTable Run()
    {
        var names = new ScopeShapes(space, _conditions, known, polarity: polarity);
        foreach (var scope in plan.Root.FromTheLeaves())
        {
            var name = names.Of(scope) + (IsFew(scope) ? " few" : "");
            if (!known.Sets.TryGetValue(name, out var shared))
            {
                shared = scope.Leaf >= 0 ? new SharedRows(Leaf(scope).Rows, scope.Outputs) : Joined(scope);
                if (scope != plan.Root)
                {
                    known.Sets[name] = shared;
                }
            }

            _shared[scope] = shared;
            _tables[scope] = shared.As(scope.Outputs);
        }

        return _tables[plan.Root];
    }

    /// <summary>The steps of what is asked for are kept while there is room: the way back to a record goes over them.</summary>
    private SharedRows Joined(Scope scope)
    {
        if (polarity is null)
        {
            return new SharedRows(Joins(scope).Last().Kept.Rows, scope.Outputs);
        }

        List<SetJoin> joins = [.. Joins(scope)];
        var shared = new SharedRows(joins[^1].Kept.Rows, scope.Outputs);
        known.Steps.Keep(shared, joins);
        return shared;
    }

    /// <summary>Each part of some record behind a row of <see cref="Run"/>, with the way it is filled.</summary>
    /// <exception cref="ProofLimitException">The steps take too much room to be kept.</exception>
    public IReadOnlyList<(int Part, int Filling)> Walk(int row)
    {
        _budget = WorkBudget.None; // every step fitted on the way there
        var choices = new List<(int, int)>();
        Walk(plan.Root, row, choices);
        return choices;
    }

    private void Walk(Scope scope, int row, List<(int Part, int Filling)> choices)
    {
        if (scope.Leaf >= 0)
        {
            choices.Add((scope.Leaf, Leaf(scope).Fillings[row]));
            return;
        }

        foreach (var (child, childRow) in Before(scope, row))
        {
            Walk(child, childRow, choices);
        }
    }

    /// <summary>A row of each part that together make a row of the whole.</summary>
    private List<(Scope Child, int Row)> Before(Scope scope, int row)
    {
        var shared = _shared[scope];
        var steps = shared.Steps;
        var joins = steps ?? Repeated(scope);
        var found = new List<(Scope, int)>();
        var (at, place, kept) = (row, 0L, steps is null ? _tables[scope] : shared.Rows);
        foreach (var join in Enumerable.Reverse(joins))
        {
            if (kept != join.After.Rows)
            {
                at = join.After.Rows.IndexOf(kept, at);
            }

            (at, place, var joined) = join.Back(at, place);
            kept = join.Before.Rows;
            if (join.Child is not null)
            {
                found.Add((scope.Children[^(found.Count + 1)], joined));
            }
        }

        return found;
    }

    private List<SetJoin> Repeated(Scope scope)
    {
        var (joins, size) = (new List<SetJoin>(), 0L);
        foreach (var join in Joins(scope))
        {
            joins.Add(join);
            size += join.After.Words;
            if (size > SetState.MostWords)
            {
                throw new ProofLimitException("the way to a record takes too much room");
            }
        }

        return joins;
    }

    /// <summary>The rows of a leaf, and the first filling behind each.</summary>
    private (RowTable Rows, List<int> Fillings) Leaf(Scope scope)
    {
        var rows = space.RowsOf(scope.Leaf);
        var code = new StepCode();
        var registers = rows.Nodes.Select(code.Input).ToArray();
        code.Add(scope.ValuesAt(0), _conditions);
        var columns = scope.Outputs.Select(code.RegisterOf).ToArray();
        var frame = code.Frame();
        var (table, fillings) = (new RowTable(scope.Outputs), new List<int>());
        for (var i = 0; i < rows.Count; i++)
        {
            for (var j = 0; j < registers.Length; j++)
            {
                frame[registers[j]] = rows.Values[j][i];
            }

            if (code.Run(frame) && table.Find(frame, columns).IsNew)
            {
                fillings.Add(i);
            }
        }

        _budget.Spend(rows.Count);
        return (table, fillings);
    }

    /// <summary>One step after another; each stands for the state before it and the one it makes.</summary>
    private IEnumerable<SetJoin> Joins(Scope scope)
    {
        var most = IsFew(scope) ? Few : int.MaxValue;
        var live = ScopePass.LiveAfter(scope);
        var sums = new RunningSums(scope);
        var state = new SetState([], []);
        state.Set([], [], 0);
        for (var step = 0; step < scope.Children.Count; step++)
        {
            var child = _tables[scope.Children[step]];
            var reads = new StepReads(state.Registers, scope.ValuesAt(step));
            foreach (
                var join in Joins(
                    state,
                    child,
                    reads,
                    live[step],
                    SpanOf(scope.Children[step], sums.From(step))
                )
            )
            {
                yield return Run(join, most);
                state = join.Kept;
            }
        }

        if (state.Registers.Count > 0)
        {
            var flat = new LookJoin(state, null, [], [.. scope.Outputs], _ => null, _conditions);
            yield return Run(flat, most);
        }
    }

    /// <summary>
    /// Rows of a whole section are many: where some may be ahead of others, that is seen of sums that stand in columns alone.
    /// </summary>
    private Func<Node, Span?> SpanOf(Scope child, Func<Node, Span?> spanOf) =>
        polarity is not null && child.FromTheLeaves().Count(s => s.Leaf >= 0) > MostOfATask
            ? _ => null
            : spanOf;

    /// <summary>Sections are worked out whole: other questions ask the same of them.</summary>
    private bool IsFew(Scope scope) =>
        few && scope.FromTheLeaves().Count(s => s.Leaf >= 0) > LeavesOfASection;

    private SetJoin Run(SetJoin join, int most)
    {
        join.Run(_budget);
        if (polarity is not null)
        {
            join.Prune(polarity, _budget, most);
        }

        return join;
    }

    private IEnumerable<SetJoin> Joins(
        SetState before,
        RowTable child,
        StepReads reads,
        List<Node> live,
        Func<Node, Span?> spanOf
    )
    {
        if (reads.Other.Count == 0 && reads.CanMove(live))
        {
            return [new MoveJoin(before, child, reads, live, spanOf, _conditions)];
        }

        // What the rest reads is kept first; a register that has been added to is then looked into without what was joined.
        var kept = live.Concat(reads.Other.SelectMany(o => o.Args))
            .Where(n => !n.IsConstant && !reads.Other.Contains(n))
            .Distinct()
            .OrderBy(n => n.Id)
            .ToList();
        var grows = kept.Exists(n => reads.GrowthOf(n) is { Parts.Count: > 0 });
        if (grows && reads.CanMove(kept))
        {
            var move = new MoveJoin(before, child, reads, kept, spanOf, _conditions);
            return [move, new LookJoin(move.After, null, reads.Other, live, spanOf, _conditions)];
        }

        return [new LookJoin(before, child, reads.All, live, spanOf, _conditions)];
    }
}
