namespace ProtocolKit.Proof.Engine;

/// <summary>
/// The order in which parts of a sheet are joined: giving order, except that what decides whether a task is given comes before it.
/// A start point that goes back asks later tasks first; in giving order all earlier answers would have to be remembered until then.
/// </summary>
internal static class WorkOrder
{
    /// <summary>By part: its place. Tasks that wait for one another in a ring stay in giving order.</summary>
    public static int[] Of(Space space)
    {
        var tasks = Enumerable.Range(0, space.PartCount).GroupBy(p => space.PlaceOf(p).Task).ToList();
        var waiting = WaitsFor(space);
        var (done, ranks) = (new HashSet<int>(), new int[space.PartCount]);
        var (open, rank) = (new List<IGrouping<int, int>>(tasks), 0);
        while (open.Count > 0)
        {
            var next = open.FindIndex(t =>
                !waiting.TryGetValue(t.Key, out var first) || first.IsSubsetOf(done)
            );
            next = Math.Max(0, next);
            foreach (var part in open[next])
            {
                ranks[part] = rank++;
            }

            done.Add(open[next].Key);
            open.RemoveAt(next);
        }

        return ranks;
    }

    /// <summary>By task: the others that the conditions on its parts read.</summary>
    private static Dictionary<int, HashSet<int>> WaitsFor(Space space)
    {
        var waiting = new Dictionary<int, HashSet<int>>();
        foreach (var (task, condition) in space.Conditions)
        {
            if (space.SetOf(condition) is { } read)
            {
                var others = read.Leaves().Select(l => space.PlaceOf(l).Task).Where(t => t >= 0 && t != task);
                if (!waiting.TryGetValue(task, out var first))
                {
                    waiting[task] = first = [];
                }

                first.UnionWith(others);
            }
        }

        return waiting;
    }
}
