namespace ProtocolKit.Proof.Engine;

/// <summary>
/// A step in two stages. Beside each combination of the yes-or-no values before it, most rows of what is joined are impossible or make no
/// difference to one another: that is found out once for each combination, and only what is left is worked out with every row before.
/// </summary>
internal sealed class JoinStages
{
    // Of what conditions rest on, as much as this is told apart as well.
    private const long Narrow = 8;

    private readonly StepCode _early = new();
    private readonly StepCode _late = new();
    private readonly RowTable? _child;
    private readonly Func<int, long>? _costOf;
    private readonly bool _isDistinct;
    private readonly int[] _before;
    private readonly List<(int Early, int Late, long Low, ulong Width)> _told = [];
    private readonly int _joined;
    private readonly List<Node> _seen;
    private readonly int[] _seenEarly;
    private readonly int _seenLate;
    private readonly Dictionary<ulong, Joinable> _known = [];
    private readonly long[] _earlyFrame;
    private long[] _frame = [];
    private ulong _lastKey;
    private Joinable? _last;

    /// <param name="before">Columns of the rows before.</param>
    /// <param name="digits">Other values that are known before, one by one.</param>
    /// <param name="child">Null: nothing is joined.</param>
    /// <param name="values">What is worked out, each after those it reads.</param>
    /// <param name="wanted">What is read off <see cref="Frame"/>.</param>
    /// <param name="costOf">Of rows that make no difference the one of the smallest cost is joined; null: the first.</param>
    /// <param name="isDistinct">False: all are joined.</param>
    public JoinStages(
        IReadOnlyList<Node> before,
        IEnumerable<Node> digits,
        RowTable? child,
        IEnumerable<Node> values,
        IReadOnlySet<Node> conditions,
        IEnumerable<Node> wanted,
        Func<int, long>? costOf = null,
        bool isDistinct = true
    )
    {
        (_child, _costOf, _isDistinct) = (child, costOf, isDistinct);
        List<Node> all = [.. values];
        var told = Told(before, all, conditions);
        var columns = child?.Columns ?? [];
        var (early, late, known) = (new List<Node>(), new List<Node>(), told.Concat(columns).ToHashSet());
        foreach (var node in all)
        {
            var isEarly = Array.TrueForAll(node.Args, a => a.IsConstant || known.Contains(a));
            (isEarly ? early : late).Add(node);
            if (isEarly)
            {
                known.Add(node);
            }
        }

        var read = late.SelectMany(n => n.Args).Concat(wanted).ToHashSet();
        _seen = [.. columns.Concat(early).Where(read.Contains)];

        _before = [.. before.Select(_late.Input)];
        Digits = [.. digits.Select(_late.Input)];
        _seenLate = _late.Inputs(_seen);
        _late.Add(late, conditions);
        foreach (var node in told)
        {
            _told.Add(
                (_early.Input(node), _late.RegisterOf(node), node.Low, (ulong)(node.High - node.Low) + 1)
            );
        }

        _joined = _early.Inputs(columns);
        _early.Add(early, conditions);
        _seenEarly = [.. _seen.Select(_early.RegisterOf)];
        _earlyFrame = _early.Frame();
    }

    public int[] Digits { get; }

    /// <summary>The registers of a step. Ask for all <see cref="RegisterOf"/> first.</summary>
    public long[] Frame => _frame.Length > 0 ? _frame : _frame = _late.Frame();

    public int RegisterOf(Node node) => _late.RegisterOf(node);

    public void Read(RowTable before, int row) => before.Read(row, Frame, _before);

    /// <summary>What can be joined to the row that was read.</summary>
    public Joinable Joinable(WorkBudget budget)
    {
        var key = 0UL;
        foreach (var (_, late, low, width) in _told)
        {
            key = (key * width) + (ulong)(_frame[late] - low);
        }

        if (_last is null || key != _lastKey)
        {
            if (!_known.TryGetValue(key, out var joinable))
            {
                _known[key] = joinable = Find(budget);
            }

            (_last, _lastKey) = (joinable, key);
        }

        return _last;
    }

    /// <summary>Works out the rest with one of them; false where a condition fails.</summary>
    public bool Join(Joinable joinable, int index)
    {
        joinable.Seen.Copy(joinable.Row(index), _frame, _seenLate);
        return _late.Run(_frame);
    }

    private Joinable Find(WorkBudget budget)
    {
        foreach (var (early, late, _, _) in _told)
        {
            _earlyFrame[early] = _frame[late];
        }

        var found = new Joinable(new RowTable(_seen), _isDistinct);
        var count = _child?.Count ?? 1;
        for (var row = 0; row < count; row++)
        {
            _child?.Copy(row, _earlyFrame, _joined);
            if (_early.Run(_earlyFrame))
            {
                found.Add(_earlyFrame, _seenEarly, row, _costOf?.Invoke(row) ?? 0);
            }
        }

        budget.Spend(count);
        return found;
    }

    /// <summary>Yes-or-no values that the step reads, and narrow ones that its conditions rest on, as many as one key can tell apart.</summary>
    private static List<Node> Told(
        IReadOnlyList<Node> before,
        List<Node> values,
        IReadOnlySet<Node> conditions
    )
    {
        var tested = new HashSet<Node>(values.Where(conditions.Contains));
        foreach (var node in Enumerable.Reverse(values).Where(tested.Contains))
        {
            tested.UnionWith(node.Args);
        }

        var read = values.SelectMany(v => v.Args).ToHashSet();
        var room = ulong.MaxValue;
        return
        [
            .. before
                .Where(n =>
                    read.Contains(n)
                    && n.High - n.Low is var width
                    && width < (tested.Contains(n) ? Narrow : 2)
                )
                .TakeWhile(n => (room /= (ulong)(n.High - n.Low) + 1) > 0),
        ];
    }
}

/// <summary>Rows of a part that can be joined beside some values, as far as they make a difference there.</summary>
internal sealed class Joinable(RowTable seen, bool isDistinct)
{
    private readonly List<int> _children = [];
    private readonly List<int> _rows = [];
    private readonly List<long> _costs = [];

    /// <summary>What is seen of them.</summary>
    public RowTable Seen => seen;

    public int Count => _children.Count;

    public int Row(int index) => isDistinct ? index : _rows[index];

    /// <summary>The row of the part.</summary>
    public int Child(int index) => _children[index];

    public void Add(long[] frame, int[] registers, int child, long cost)
    {
        var (row, isNew) = seen.Find(frame, registers);
        if (isNew || !isDistinct)
        {
            _children.Add(child);
            _rows.Add(row);
            _costs.Add(cost);
        }
        else if (cost < _costs[row])
        {
            (_children[row], _costs[row]) = (child, cost);
        }
    }
}
