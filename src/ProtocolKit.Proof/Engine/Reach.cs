using System.Numerics;
using ProtocolKit.Proof.Records;

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
    private readonly RecordSpace _space;
    private readonly BigInteger _free = BigInteger.One;

    /// <summary>Distinct rows kept apart at most; beyond it a question is not worked out.</summary>
    public const long Limit = 2_000_000;

    /// <param name="related">Values whose parts belong together, such as scores: they shape the order of work, never the answer.</param>
    /// <param name="known">Parts worked out for earlier questions of the same graph, and those of this one.</param>
    /// <exception cref="ProofLimitException">There are more than <paramref name="limit"/> cases to keep apart.</exception>
    public Reach(
        Graph graph,
        RecordSpace space,
        IReadOnlyList<Node> roots,
        IEnumerable<Node> related,
        bool counts = false,
        long limit = Limit,
        KnownParts? known = null
    )
    {
        (_space, _known) = (space, known ?? new KnownParts());
        _known.Trials ??= new KeptTrials(space, graph);
        roots = _known.Trials.Separate(roots);
        var cone = new Cone(space, roots, everyCondition: counts);
        if (counts)
        {
            foreach (var (leaf, index) in space.Leaves.Select((l, i) => (l, i)))
            {
                _free *= cone.Leaves.Contains(index) || leaf.Task < 0 ? 1 : leaf.Fillings.Count;
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

        var sets = TrialSets(space, cone)
            .Select(s => (s, false))
            .Concat(related.Select(cone.SetOf).OfType<LeafSet>().Select(s => (s, true)));
        var root = Scope.Tree(cone.Leaves, [.. sets]);
        _plan = new Plan(graph, root, space.LeafOf, roots, cone.Conditions);
        (_roots, _counts, _limit) = (_plan.Roots, counts, limit);
        _pass = new ScopePass(_plan, space, counts, limit, isOrdered: false, _known);
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

    /// <summary>The smallest record of a row that <see cref="Smallest"/> gave.</summary>
    public long[] Witness(int row) => _pass?.Witness(row) ?? (long[])_space.Baseline.Clone();

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
            _pass = new ScopePass(_plan, _space, _counts, _limit, isOrdered: true, _known);
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

    private static IEnumerable<LeafSet> TrialSets(RecordSpace space, Cone cone)
    {
        var byTask = cone.Leaves.Where(l => space.Leaves[l].Task >= 0).GroupBy(l => space.Leaves[l].Task);
        foreach (var task in byTask)
        {
            foreach (
                var trial in task.Where(l => space.Leaves[l].Trial > 0).GroupBy(l => space.Leaves[l].Trial)
            )
            {
                yield return Set(trial);
            }

            yield return Set(task);
        }

        LeafSet Set(IEnumerable<int> leaves)
        {
            var set = new LeafSet(space.Leaves.Count);
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
    private readonly RecordSpace _space;
    private readonly Dictionary<Node, LeafSet?> _leaves = [];

    public Cone(RecordSpace space, IReadOnlyList<Node> roots, bool everyCondition)
    {
        _space = space;
        var all = new LeafSet(space.Leaves.Count);
        foreach (var root in roots)
        {
            Take(root, all);
        }

        var tasks = all.Leaves().Select(l => space.Leaves[l].Task).ToHashSet();
        var conditions = space
            .Conditions.Where(c => !c.Condition.Is(1) && (everyCondition || tasks.Contains(c.Task)))
            .Select(c => c.Condition)
            .ToList();
        conditions.ForEach(c => Take(c, all));
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

        var set = new LeafSet(_space.Leaves.Count);
        if (node.Op == Op.Field)
        {
            set.Add(_space.LeafOf((int)node.Value));
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
