namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Of rows that are the same but for values of which more can only help (or only hinder), those that no other is ahead of: where one
/// leads to what is asked for, so does the one ahead of it, with the same answers to come.
/// </summary>
internal sealed class Front
{
    private readonly RowTable _rows;
    private readonly long[][] _better;
    private readonly List<int> _kept = [];

    private Front(RowTable rows, List<int> columns, Polarity polarity, long[]? cost)
    {
        _rows = rows;
        _better =
        [
            .. columns.Select(c =>
            {
                var sign = polarity.Of(rows.Columns[c]) == Way.MayRise ? 1 : -1;
                return Enumerable.Range(0, rows.Count).Select(r => sign * rows.Value(r, c)).ToArray();
            }),
            .. cost is null ? [] : new[] { Ranks(cost) },
        ];
    }

    /// <summary>The smallest record has the most; of two that are equally small, the one that stands first.</summary>
    private static long[] Ranks(long[] cost)
    {
        var ranks = new long[cost.Length];
        foreach (var (rank, row) in Enumerable.Range(0, cost.Length).OrderBy(r => cost[r]).Index())
        {
            ranks[row] = -rank;
        }

        return ranks;
    }

    /// <summary>The rows themselves where none is ahead of another.</summary>
    /// <param name="budget">Comparing costs work as well.</param>
    /// <exception cref="ProofLimitException">There is too much to compare.</exception>
    public static RowTable Of(RowTable rows, Polarity polarity, WorkBudget budget) =>
        Kept(rows, polarity, budget, null) is { } kept ? rows.Only(kept) : rows;

    /// <summary>The same of rows with the smallest record behind each: one with a smaller record is never behind.</summary>
    public static ClassList Of(ClassList list, Polarity polarity, WorkBudget budget) =>
        Kept(list.Rows, polarity, budget, list.Cost) is { } kept ? list.Only(kept) : list;

    /// <summary>Null where all rows are kept.</summary>
    private static List<int>? Kept(RowTable rows, Polarity polarity, WorkBudget budget, long[]? cost)
    {
        var columns = Enumerable.Range(0, rows.Columns.Count).ToList();
        var ordered = columns.Where(c => polarity.Of(rows.Columns[c]) is Way.MayRise or Way.MayFall).ToList();
        if (ordered.Count == 0 || rows.Count < 2)
        {
            return null;
        }

        var front = new Front(rows, ordered, polarity, cost);
        foreach (var group in front.Groups([.. columns.Except(ordered)]))
        {
            front.Keep(group, budget);
        }

        if (front._kept.Count == rows.Count)
        {
            return null;
        }

        front._kept.Sort();
        return front._kept;
    }

    /// <summary>Rows that are the same in all other columns.</summary>
    private IEnumerable<List<int>> Groups(int[] columns)
    {
        var same = new RowTable([.. columns.Select(c => _rows.Columns[c])]);
        var (frame, places) = (new long[columns.Length], Enumerable.Range(0, columns.Length).ToArray());
        var groups = new List<List<int>>();
        for (var row = 0; row < _rows.Count; row++)
        {
            for (var i = 0; i < columns.Length; i++)
            {
                frame[i] = _rows.Value(row, columns[i]);
            }

            var (group, isNew) = same.Find(frame, places);
            if (isNew)
            {
                groups.Add([]);
            }

            groups[group].Add(row);
        }

        return groups;
    }

    private void Keep(List<int> group, WorkBudget budget)
    {
        group.Sort(Compare); // what is ahead of a row stands before it
        var first = _kept.Count;
        var last = _better[^1];
        var most = long.MinValue;
        foreach (var row in group)
        {
            // Of two values the second must be more than with any larger first one.
            var isBehind =
                _better.Length <= 2
                    ? _kept.Count > first && (_better.Length == 1 || last[row] <= most)
                    : IsBehind(row, first, budget);
            if (!isBehind)
            {
                most = last[row];
                _kept.Add(row);
            }
        }
    }

    private bool IsBehind(int row, int first, WorkBudget budget)
    {
        budget.Spend((_kept.Count - first) / 8);
        for (var i = first; i < _kept.Count; i++)
        {
            if (IsAhead(_kept[i], row))
            {
                return true;
            }
        }

        return false;
    }

    private bool IsAhead(int kept, int row)
    {
        foreach (var values in _better)
        {
            if (values[kept] < values[row])
            {
                return false;
            }
        }

        return true;
    }

    private int Compare(int a, int b)
    {
        foreach (var values in _better)
        {
            if (values[a] != values[b])
            {
                return values[b].CompareTo(values[a]);
            }
        }

        return a.CompareTo(b);
    }
}
