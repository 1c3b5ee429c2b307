using System.Numerics;

namespace ProtocolKit.Proof.Engine;

/// <summary>Collects rows while parts are joined: the smallest way to each, and the number of ways.</summary>
internal sealed class ClassBuilder(
    IReadOnlyList<Node> columns,
    Func<Node, int> registerOf,
    bool counts,
    long limit
)
{
    private readonly RowTable _rows = new(columns);
    private readonly int[] _registers = [.. columns.Select(registerOf)];
    private readonly List<long> _cost = [];
    private readonly List<(int Before, int Joined)> _ways = [];
    private readonly List<BigInteger> _counts = [];

    /// <summary>True where the first way is smaller than the second, of equal cost; null: the one found first is.</summary>
    public Func<int, int, int, int, bool>? Compare { get; set; }

    /// <summary>What of a row no longer matters; null: everything does.</summary>
    public Residual? Residual { get; init; }

    /// <summary>Ways with more answers that differ from a flawless sheet are left out.</summary>
    public int Differing { get; init; } = int.MaxValue;

    public void Add(long[] frame, long cost, int before, int joined, BigInteger ways)
    {
        if (Differing < int.MaxValue && ClassList.Differing(cost) > Differing)
        {
            return;
        }

        Residual?.Settle(frame, _registers);
        var (row, isNew) = _rows.Find(frame, _registers);
        Residual?.Restore(frame, _registers);
        if (isNew)
        {
            if (row >= limit)
            {
                throw new ProofLimitException("there are too many different values to keep apart");
            }

            _cost.Add(cost);
            _ways.Add((before, joined));
            if (counts)
            {
                _counts.Add(ways);
            }

            return;
        }

        if (counts)
        {
            _counts[row] += ways;
        }

        var isSmaller =
            cost < _cost[row]
            || (
                cost == _cost[row]
                && Compare is { } compare
                && compare(before, joined, _ways[row].Before, _ways[row].Joined)
            );
        if (isSmaller)
        {
            (_cost[row], _ways[row]) = (cost, (before, joined));
        }
    }

    /// <summary>The rows in the order of their smallest ways.</summary>
    public ClassList Build(Comparison<(int Before, int Joined)>? order)
    {
        var sorted = Enumerable.Range(0, _rows.Count).ToArray();
        order ??= (x, y) =>
            x.Before != y.Before ? x.Before.CompareTo(y.Before) : x.Joined.CompareTo(y.Joined);
        Array.Sort(sorted, (x, y) => order(_ways[x], _ways[y]));
        _rows.Reorder(sorted);
        return new ClassList(
            _rows,
            [.. sorted.Select(i => _cost[i])],
            [.. sorted.Select(i => _ways[i].Before)],
            [.. sorted.Select(i => _ways[i].Joined)],
            counts ? [.. sorted.Select(i => _counts[i])] : null
        );
    }
}
