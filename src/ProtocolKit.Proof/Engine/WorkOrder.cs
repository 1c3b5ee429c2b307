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
        var waiting = WaitsFor(space);
        var tasks = Enumerable
            .Range(0, space.PartCount)
            .GroupBy(p => space.PlaceOf(p).Task)
            .OrderBy(t => PlaceOf(space, t, waiting))
            .ToList();
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

    /// <summary>A guess comes just before the first part that waits for it.</summary>
    private static int PlaceOf(
        Space space,
        IGrouping<int, int> parts,
        Dictionary<int, HashSet<int>> waiting
    ) =>
        space.Behind(parts.First()) is null
            ? 2 * parts.First()
            : Enumerable
                .Range(0, parts.First())
                .Where(p => waiting.GetValueOrDefault(space.PlaceOf(p).Task)?.Contains(parts.Key) == true)
                .Select(p => (2 * p) - 1)
                .FirstOrDefault(2 * parts.First());

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
