namespace ProtocolKit.Proof.Engine;

/// <summary>
/// The forward pass for sets alone: which rows there are, neither the smallest record behind each nor how many. Sums that are only added
/// to are kept as bits, so that a whole section's answers move many combinations at once (core.md, section 3).
/// </summary>
internal sealed class SetPass(Plan plan, Space space, long limit, KnownParts known)
{
    // A narrower sum is no trouble to keep apart, and a set for it costs more than it saves.
    private const long Narrow = 7;

    // Beyond as many places a sum stands in a column: most combinations of many sums never happen.
    private const long Most = 1 << 13;

    private readonly Dictionary<Scope, RowTable> _tables = [];
    private readonly HashSet<Node> _conditions = [.. plan.Conditions];
    private readonly WorkBudget _budget = new(limit);

    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public RowTable Run()
    {
        var names = new ScopeNames(_conditions, shorten: known.NameOf);
        foreach (var scope in plan.Root.FromTheLeaves())
        {
            var name = names.Of(scope);
            if (!known.Sets.TryGetValue(name, out var table))
            {
                table = scope.Leaf >= 0 ? Leaf(scope) : Joined(scope);
                if (scope != plan.Root)
                {
                    known.Sets[name] = table;
                }
            }

            _tables[scope] = table;
        }

        return _tables[plan.Root];
    }

    private RowTable Leaf(Scope scope)
    {
        var rows = space.RowsOf(scope.Leaf);
        var code = new StepCode();
        var registers = rows.Nodes.Select(code.Input).ToArray();
        var tests = code.Add(scope.ValuesAt(0), _conditions);
        var columns = scope.Outputs.Select(code.RegisterOf).ToArray();
        var frame = code.Frame();
        var table = new RowTable(scope.Outputs);
        for (var i = 0; i < rows.Count; i++)
        {
            for (var j = 0; j < registers.Length; j++)
            {
                frame[registers[j]] = rows.Values[j][i];
            }

            code.Run(frame);
            if (StepCode.Holds(frame, tests))
            {
                table.Find(frame, columns);
            }
        }

        _budget.Spend(rows.Count);
        return table;
    }

    private RowTable Joined(Scope scope)
    {
        var live = ScopePass.LiveAfter(scope);
        var sums = new RunningSums(scope);
        var state = new SetState([], []);
        state.Set([], [], 0);
        for (var step = 0; step < scope.Children.Count; step++)
        {
            var child = _tables[scope.Children[step]];
            var reads = new StepReads(state.Registers, scope.ValuesAt(step));
            state = Join(state, child, reads, live[step], sums.From(step));
        }

        return Flat(state, scope.Outputs);
    }

    private SetState Join(
        SetState before,
        RowTable child,
        StepReads reads,
        List<Node> live,
        Func<Node, Span?> spanOf
    )
    {
        if (reads.Other.Count == 0 && reads.CanMove(live))
        {
            return Move(before, child, reads, live, spanOf);
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
            before = Move(before, child, reads, kept, spanOf);
            return Look(before, null, reads.Other, live, spanOf);
        }

        return Look(before, child, reads.All, live, spanOf);
    }

    /// <summary>Registers grow by what is joined: sets are moved as wholes.</summary>
    private SetState Move(
        SetState before,
        RowTable child,
        StepReads reads,
        List<Node> live,
        Func<Node, Span?> spanOf
    )
    {
        var code = new StepCode();
        var kept = before.Rows.Columns.Select(code.Input).ToArray();
        var joined = child.Columns.Select(code.Input).ToArray();
        var tests = code.Add(reads.Plain, _conditions);
        var layout = new Layout(before.Registers, reads, live, spanOf);
        var after = new SetState(layout.Columns, layout.Registers);
        var columns = layout.Columns.Select(code.RegisterOf).ToArray();
        var terms = Terms(layout, code);
        var frame = code.Frame();
        for (var a = 0; a < before.Rows.Count; a++)
        {
            before.Rows.Read(a, frame, kept);
            for (var b = 0; b < child.Count; b++)
            {
                child.Read(b, frame, joined);
                code.Run(frame);
                if (!StepCode.Holds(frame, tests))
                {
                    continue;
                }

                after.Add(frame, columns, before, a, Place(layout.Offset, terms, frame));
            }

            _budget.Spend(child.Count * (1L + (before.Used(a) / 64)));
        }

        return after;
    }

    /// <summary>Every combination by itself.</summary>
    /// <param name="child">Null: nothing is joined.</param>
    private SetState Look(
        SetState before,
        RowTable? child,
        IEnumerable<Node> values,
        List<Node> live,
        Func<Node, Span?> spanOf
    )
    {
        var code = new StepCode();
        var kept = before.Rows.Columns.Select(code.Input).ToArray();
        var digits = before.Registers.Select(r => code.Input(r.Node)).ToArray();
        var joined = child?.Columns.Select(code.Input).ToArray() ?? [];
        var tests = code.Add(values, _conditions);
        var layout = new Layout([], new StepReads([], []), live, spanOf);
        var after = new SetState(layout.Columns, layout.Registers);
        var columns = layout.Columns.Select(code.RegisterOf).ToArray();
        var terms = Terms(layout, code);
        var frame = code.Frame();
        for (var a = 0; a < before.Rows.Count; a++)
        {
            before.Rows.Read(a, frame, kept);
            foreach (var place in before.Places(a))
            {
                for (var i = 0; i < digits.Length; i++)
                {
                    var register = before.Registers[i];
                    var digit = place / register.Stride % register.Width;
                    frame[digits[i]] = register.Node.Low + (digit * register.Unit);
                }

                for (var b = 0; b < (child?.Count ?? 1); b++)
                {
                    child?.Read(b, frame, joined);
                    code.Run(frame);
                    if (!StepCode.Holds(frame, tests))
                    {
                        continue;
                    }

                    after.Set(frame, columns, Place(layout.Offset, terms, frame));
                }

                _budget.Spend(child?.Count ?? 1);
            }
        }

        return after;
    }

    private static (long Stride, long Factor, long Unit, int Register)[] Terms(
        Layout layout,
        StepCode code
    ) => [.. layout.Terms.Select(t => (t.Stride, t.Factor, t.Unit, code.RegisterOf(t.Part)))];

    private static long Place(
        long offset,
        (long Stride, long Factor, long Unit, int Register)[] terms,
        long[] frame
    )
    {
        foreach (var (stride, factor, unit, register) in terms)
        {
            offset += stride * (factor * frame[register] / unit);
        }

        return offset;
    }

    private RowTable Flat(SetState state, IReadOnlyList<Node> outputs)
    {
        if (state.Registers.Count > 0)
        {
            state = Look(state, null, [], [.. outputs], _ => null);
        }

        return state.Rows;
    }

    /// <summary>Which of the values kept after a step stand in columns, and which are digits of a place.</summary>
    private sealed class Layout
    {
        private readonly List<Node> _columns = [];
        private readonly List<Register> _registers = [];
        private readonly List<(long Stride, long Factor, long Unit, Node Part)> _terms = [];

        public Layout(
            IReadOnlyList<Register> before,
            StepReads reads,
            List<Node> live,
            Func<Node, Span?> spanOf
        )
        {
            // Registers of before keep their strides; new ones follow, the widest first.
            foreach (
                var node in live.Where(n => reads.GrowthOf(n) is not null)
                    .OrderBy(n => reads.GrowthOf(n)!.Register)
            )
            {
                Grow(node, reads.GrowthOf(node)!, before);
            }

            var fresh = live.Where(n => reads.GrowthOf(n) is null).Select(n => (Node: n, Span: spanOf(n)));
            foreach (
                var (node, span) in fresh.OrderByDescending(f => f.Span?.Width ?? 0).ThenBy(f => f.Node.Id)
            )
            {
                if (span is { Width: > Narrow } && Places * span.Width <= Most)
                {
                    Begin(node, span);
                }
                else
                {
                    _columns.Add(node);
                }
            }
        }

        private long Places => _registers.Count == 0 ? 1 : _registers[^1].Stride * _registers[^1].Width;

        private void Grow(Node node, Growth growth, IReadOnlyList<Register> before)
        {
            var old = before[growth.Register];
            _registers.Add(old with { Node = node });
            Offset += old.Stride * ((old.Node.Low + growth.Constant - node.Low) / old.Unit);
            _terms.AddRange(growth.Parts.Select(p => (old.Stride, p.Factor, old.Unit, p.Part)));
        }

        private void Begin(Node node, Span span)
        {
            var stride = Places;
            _registers.Add(new Register(node, stride, span.Width, span.Unit));
            Offset -= stride * (node.Low / span.Unit);
            _terms.Add((stride, 1, span.Unit, node));
        }

        public IReadOnlyList<Node> Columns => _columns;
        public IReadOnlyList<Register> Registers => _registers;

        /// <summary>A place is the old one, moved by this and by the terms.</summary>
        public long Offset { get; private set; }
        public IReadOnlyList<(long Stride, long Factor, long Unit, Node Part)> Terms => _terms;
    }
}
