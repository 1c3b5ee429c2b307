namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Which wide values of a row still matter, once its narrow ones are known. A total whose score is blocked already decides nothing
/// any more: rows that differ in it alone are one. Found by limits: with the narrow values fixed and everything else anywhere
/// within its limits, what can't change any result is put to its lower limit.
/// </summary>
internal sealed class Residual
{
    private const long Narrow = 15;

    // Where so many combinations leave nothing out, others hardly do: then nothing more is looked for.
    private const int MostInVain = 64;
    private static readonly int[] Nothing = [];

    private readonly int[] _narrow;
    private readonly long[] _radix;
    private readonly int[] _wide;
    private readonly Node[] _values;
    private readonly int[][] _args;
    private readonly long[] _low;
    private readonly long[] _high;
    private readonly bool[] _isRead;
    private readonly int[] _roots;
    private readonly int _inputs;
    private readonly long[] _kept;
    private readonly IReadOnlyList<Node> _live;
    private readonly Dictionary<ulong, int[]> _known = [];
    private ulong _lastKey = ulong.MaxValue;
    private int[] _last = Nothing;

    /// <summary>Combinations of narrow values beside which everything matters, one after another.</summary>
    private int _inVain;

    private Residual(Scope scope, int step, IReadOnlyList<Node> live, HashSet<Node> conditions)
    {
        _live = live;
        (_narrow, _wide) = (Fitting(Columns(isWide: false)), Columns(isWide: true));
        _kept = new long[_wide.Length];
        _radix = [.. _narrow.Select(i => live[i].High - live[i].Low + 1)];
        var index = new Dictionary<Node, int>();
        foreach (var node in live)
        {
            index[node] = index.Count;
        }

        foreach (var node in scope.Children.Skip(step + 1).SelectMany(c => c.Outputs))
        {
            index.TryAdd(node, index.Count);
        }

        _values = [.. scope.Values.Where(v => v.Step > step).Select(v => v.Node)];
        var constants = _values.SelectMany(v => v.Args).Where(a => a.IsConstant).Distinct();
        foreach (var node in constants)
        {
            index[node] = index.Count;
        }

        _inputs = index.Count;
        foreach (var node in _values)
        {
            index[node] = index.Count;
        }

        _low = new long[index.Count];
        _high = new long[index.Count];
        _isRead = new bool[index.Count];
        foreach (var (node, at) in index)
        {
            (_low[at], _high[at]) = (node.Low, node.High);
        }

        _args = [.. _values.Select(v => v.Args.Select(a => index[a]).ToArray())];
        _roots =
        [
            .. scope
                .Outputs.Concat(_values.Where(conditions.Contains))
                .Distinct()
                .Where(index.ContainsKey)
                .Select(o => index[o]),
        ];
    }

    /// <summary>Null where no wide value is kept, or none is read later.</summary>
    public static Residual? Of(Scope scope, int step, IReadOnlyList<Node> live, HashSet<Node> conditions) =>
        step + 1 < scope.Children.Count && live.Count > 1 && live.Any(IsWide)
            ? new Residual(scope, step, live, conditions)
            : null;

    private static bool IsWide(Node node) => node.High - node.Low > Narrow;

    private int[] Columns(bool isWide) =>
        [.. Enumerable.Range(0, _live.Count).Where(i => IsWide(_live[i]) == isWide)];

    /// <summary>As many as one key can tell apart; those beyond count as anywhere within their limits.</summary>
    private int[] Fitting(int[] columns)
    {
        var room = long.MaxValue;
        return [.. columns.TakeWhile(c => (room /= _live[c].High - _live[c].Low + 1) > 0)];
    }

    /// <summary>Puts what no longer matters to its lower limit, until <see cref="Restore"/>.</summary>
    /// <param name="registers">Where each live value stands in the frame.</param>
    public void Settle(long[] frame, int[] registers)
    {
        if (_inVain == MostInVain)
        {
            return;
        }

        var key = 0UL;
        for (var i = 0; i < _narrow.Length; i++)
        {
            var column = _narrow[i];
            key = (key * (ulong)_radix[i]) + (ulong)(frame[registers[column]] - _live[column].Low);
        }

        if (key != _lastKey)
        {
            _lastKey = key;
            if (!_known.TryGetValue(key, out _last!))
            {
                _known[key] = _last = Dead(frame, registers);
                _inVain = _last.Length > 0 ? 0 : _inVain + 1;
            }
        }

        for (var i = 0; i < _last.Length; i++)
        {
            var at = registers[_last[i]];
            _kept[i] = frame[at];
            frame[at] = _live[_last[i]].Low;
        }
    }

    public void Restore(long[] frame, int[] registers)
    {
        for (var i = 0; i < _last.Length; i++)
        {
            frame[registers[_last[i]]] = _kept[i];
        }
    }

    private int[] Dead(long[] frame, int[] registers)
    {
        foreach (var column in _narrow)
        {
            _low[column] = _high[column] = frame[registers[column]];
        }

        for (var i = 0; i < _values.Length; i++)
        {
            (_low[_inputs + i], _high[_inputs + i]) = Limits(_values[i], _args[i]);
        }

        Array.Clear(_isRead);
        foreach (var root in _roots)
        {
            _isRead[root] = true;
        }

        for (var i = _values.Length - 1; i >= 0; i--)
        {
            var at = _inputs + i;
            if (_isRead[at] && _low[at] != _high[at])
            {
                Read(_values[i], _args[i]);
            }
        }

        return [.. _wide.Where(c => !_isRead[c])];
    }

    private void Read(Node node, int[] args)
    {
        if (node.Op == Op.Choose && _low[args[0]] == _high[args[0]])
        {
            _isRead[args[_low[args[0]] != 0 ? 1 : 2]] = true;
            return;
        }

        foreach (var arg in args)
        {
            _isRead[arg] = true;
        }
    }

    private (long, long) Limits(Node node, int[] args)
    {
        long Low(int i) => _low[args[i]];
        long High(int i) => _high[args[i]];
        switch (node.Op)
        {
            case Op.Linear:
                var (low, high) = (node.Value, node.Value);
                for (var i = 0; i < args.Length; i++)
                {
                    var factor = node.Numbers[i];
                    low += factor * (factor > 0 ? Low(i) : High(i));
                    high += factor * (factor > 0 ? High(i) : Low(i));
                }

                return (low, high);
            case Op.Choose:
                return Low(0) == High(0)
                    ? Low(0) != 0
                        ? (Low(1), High(1))
                        : (Low(2), High(2))
                    : (Math.Min(Low(1), Low(2)), Math.Max(High(1), High(2)));
            case Op.Least:
                return (Math.Min(Low(0), Low(1)), Math.Min(High(0), High(1)));
            case Op.Most:
                return (Math.Max(Low(0), Low(1)), Math.Max(High(0), High(1)));
            case Op.Both:
                return (Low(0) & Low(1), High(0) & High(1));
            case Op.Either:
                return (Low(0) | Low(1), High(0) | High(1));
            case Op.Not:
                return (1 - High(0), 1 - Low(0));
            case Op.AtMost:
                return (High(0) <= Low(1) ? 1 : 0, Low(0) <= High(1) ? 1 : 0);
            case Op.Equal:
                var same = Low(0) == High(0) && Low(1) == High(1) && Low(0) == Low(1);
                var apart = High(0) < Low(1) || High(1) < Low(0);
                return (same ? 1 : 0, apart ? 0 : 1);
            case Op.Keep:
                return (Low(0), High(0));
            case Op.Clamp:
                return (
                    Math.Clamp(Low(0), node.Numbers[0], node.Numbers[1]),
                    Math.Clamp(High(0), node.Numbers[0], node.Numbers[1])
                );
            case Op.Pick:
                return Picked(node.Numbers, Low(0), High(0));
            default:
                return (node.Low, node.High);
        }
    }

    private static (long, long) Picked(long[] cases, long low, long high)
    {
        var (least, most) = (long.MaxValue, long.MinValue);
        for (var i = 0; i < cases.Length; i += 3)
        {
            if (cases[i] <= high && cases[i + 1] >= low)
            {
                (least, most) = (Math.Min(least, cases[i + 2]), Math.Max(most, cases[i + 2]));
            }
        }

        return (least, most);
    }
}
