using System.Numerics;

namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Which values some nodes take together over all records of a space: every combination that some record gives and no other, with the
/// smallest such record and, if asked for, the number of them.
/// </summary>
internal sealed class Reach
{
    private readonly IReadOnlyList<Node> _roots;
    private readonly KnownParts _known;
    private readonly Plan? _plan;
    private readonly bool _counts;
    private readonly long _limit;
    private readonly int[] _columns;
    private ScopePass? _pass;
    private ClassList? _list;
    private readonly Space _space;
    private readonly int _differing;
    private readonly BigInteger _free = BigInteger.One;

    /// <summary>Distinct rows kept apart at most; beyond it a question is not worked out.</summary>
    public const long Limit = 2_000_000;

    /// <param name="related">Values whose parts belong together, such as scores: they shape the order of work, never the answer.</param>
    /// <param name="known">Parts worked out for earlier questions of the same graph, and those of this one.</param>
    /// <exception cref="ProofLimitException">There are more than <paramref name="limit"/> cases to keep apart.</exception>
    public Reach(
        Graph graph,
        Space space,
        IReadOnlyList<Node> roots,
        IEnumerable<Node> related,
        bool counts = false,
        long limit = Limit,
        KnownParts? known = null,
        int differing = int.MaxValue
    )
    {
        (_space, _known, _differing) = (space, known ?? new KnownParts(), differing);
        _known.Trials ??= new KeptTrials(space, graph);
        roots = _known.Trials.Separate(roots);
        var cone = new Cone(space, roots, everyCondition: counts);
        if (counts)
        {
            for (var part = 0; part < space.PartCount; part++)
            {
                _free *=
                    cone.Leaves.Contains(part) || space.PlaceOf(part).Task < 0 ? 1 : space.RowsOf(part).Count;
            }
        }

        _roots = roots;
        _columns = new int[roots.Count];
        if (cone.Leaves.Count == 0)
        {
            for (var i = 0; i < _columns.Length; i++)
            {
                _columns[i] = -1;
            }

            return;
        }

        var root = Scope.Tree(cone.Leaves, SetsOf(space, cone, related));
        _plan = new Plan(graph, root, space.PartOf, roots, cone.Conditions);
        (_roots, _counts, _limit) = (_plan.Roots, counts, limit);
        _pass = new ScopePass(_plan, space, counts, limit, isOrdered: false, _known, differing);
        _list = _pass.Run();
        for (var i = 0; i < _columns.Length; i++)
        {
            _columns[i] = _roots[i].IsConstant ? -1 : IndexIn(_list.Rows.Columns, _roots[i]);
        }
    }

    public int Count => _list?.Count ?? 1;
    public long Work => _pass?.Work ?? 1;

    public long Value(int row, int root) =>
        _columns[root] < 0 || _list is null ? _roots[root].Value : _list.Rows.Value(row, _columns[root]);

    /// <summary>Smaller is closer to the flawless sheet.</summary>
    public long Cost(int row) => _list?.Cost[row] ?? 0;

    /// <summary>How many records give this row, at one age.</summary>
    public BigInteger Ways(int row) => _free * (_list?.Counts![row] ?? 1);

    /// <summary>The parts of the smallest way to a row that <see cref="Smallest"/> gave, each with the way it is filled.</summary>
    public IReadOnlyList<(int Part, int Filling)> Choices(int row) => _pass?.Choices(row) ?? [];

    /// <summary>Whether some record gives a row that satisfies a test.</summary>
    public bool Any(Func<int, bool> test)
    {
        for (var row = 0; row < Count; row++)
        {
            if (test(row))
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The row with the smallest record of those that satisfy a test, or -1.</summary>
    public int Smallest(Func<int, bool> test)
    {
        if (!Any(test))
        {
            return -1;
        }

        Order();
        var best = -1;
        for (var row = 0; row < Count; row++)
        {
            if (test(row) && (best < 0 || Cost(row) < Cost(best)))
            {
                best = row;
            }
        }

        return best;
    }

    /// <summary>
    /// Where tasks of different scores lie between one another, telling equally small records apart costs much, and most questions
    /// find nothing to show: it is done once somebody wants a record.
    /// </summary>
    private void Order()
    {
        if (_pass is { IsOrdered: false } && _plan!.Root.FromTheLeaves().Any(s => !s.IsInOrder))
        {
            _pass = new ScopePass(_plan, _space, _counts, _limit, isOrdered: true, _known, _differing);
            _list = _pass.Run();
        }
    }

    private static int IndexIn(IReadOnlyList<Node> columns, Node node)
    {
        for (var i = 0; i < columns.Count; i++)
        {
            if (columns[i] == node)
            {
                return i;
            }
        }

        throw new InvalidOperationException($"{node} was lost on its way.");
    }

    /// <summary>What belongs together: the answers of a trial, the trials of a task, the tasks of a related value.</summary>
    public static IReadOnlyList<(LeafSet Leaves, bool IsWhole)> SetsOf(
        Space space,
        Cone cone,
        IEnumerable<Node> related
    ) =>
        [
            .. TrialSets(space, cone).Select(s => (s, false)),
            .. related.Select(cone.SetOf).OfType<LeafSet>().Select(s => (s, true)),
        ];

    private static IEnumerable<LeafSet> TrialSets(Space space, Cone cone)
    {
        var byTask = cone.Leaves.Where(l => space.PlaceOf(l).Task >= 0).GroupBy(l => space.PlaceOf(l).Task);
        foreach (var task in byTask)
        {
            foreach (
                var trial in task.Where(l => space.PlaceOf(l).Trial > 0).GroupBy(l => space.PlaceOf(l).Trial)
            )
            {
                yield return Set(trial);
            }

            yield return Set(task);
        }

        LeafSet Set(IEnumerable<int> leaves)
        {
            var set = new LeafSet(space.PartCount);
            foreach (var leaf in leaves)
            {
                set.Add(leaf);
            }

            return set;
        }
    }
}

/// <summary>What was worked out for earlier questions of the same graph.</summary>
internal sealed class KnownParts
{
    public Dictionary<string, List<ClassList>> Lists { get; } = new(StringComparer.Ordinal);
    public KeptTrials? Trials { get; set; }
}

/// <summary>Everything some values read, and the conditions between the parts of a sheet that touch it.</summary>
internal sealed class Cone
{
    private readonly Space _space;
    private readonly Dictionary<Node, LeafSet?> _leaves = [];

    public Cone(Space space, IReadOnlyList<Node> roots, bool everyCondition)
    {
        _space = space;
        var all = new LeafSet(space.PartCount);
        foreach (var root in roots)
        {
            Take(root, all);
        }

        var tasks = all.Leaves().Select(l => space.PlaceOf(l).Task).ToHashSet();
        var conditions = space
            .Conditions.Where(c => !c.Condition.Is(1) && (everyCondition || tasks.Contains(c.Task)))
            .Select(c => c.Condition)
            .ToList();
        conditions.ForEach(c => Take(c, all));
        if (space.Overall(all.Leaves()) is { } overall)
        {
            conditions.Add(overall);
            Take(overall, all);
        }

        Conditions = conditions;
        Leaves = [.. all.Leaves()];
    }

    public IReadOnlyList<int> Leaves { get; }
    public IReadOnlyList<Node> Conditions { get; }

    /// <summary>The parts a value reads, in or outside of this cone; null for a constant.</summary>
    public LeafSet? SetOf(Node node) => Visit(node);

    private void Take(Node node, LeafSet into)
    {
        if (Visit(node) is { } set)
        {
            into.Add(set);
        }
    }

    private LeafSet? Visit(Node node)
    {
        if (node.IsConstant)
        {
            return null;
        }

        if (_leaves.TryGetValue(node, out var known))
        {
            return known;
        }

        var set = new LeafSet(_space.PartCount);
        if (node.Op == Op.Field)
        {
            set.Add(_space.PartOf((int)node.Value));
        }

        foreach (var arg in node.Args)
        {
            if (Visit(arg) is { } inner)
            {
                set.Add(inner);
            }
        }

        return _leaves[node] = set;
    }
}
