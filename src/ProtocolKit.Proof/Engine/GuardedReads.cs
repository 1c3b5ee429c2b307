namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Which parts of a sheet a value reads even where something they wait for does not hold. What is read only of a task that is given may
/// be compared between two sheets as if it were given on both: where it isn't, the choice above it says what counts instead.
/// </summary>
internal sealed class GuardedReads
{
    private readonly Space _space;
    private readonly Dictionary<Node, List<(HashSet<Node> Parts, LeafSet Guarded)>> _guards = [];
    private readonly Dictionary<Node, LeafSet> _known = [];

    /// <param name="guards">What must hold, and the parts that may then be read.</param>
    public GuardedReads(Space space, IEnumerable<(Node Condition, IEnumerable<int> Guarded)> guards)
    {
        _space = space;
        foreach (var (condition, guarded) in guards)
        {
            var parts = Holding(condition).ToHashSet();
            var set = new LeafSet(space.PartCount);
            foreach (var part in guarded)
            {
                set.Add(part);
            }

            var first = parts.MinBy(p => p.Id)!;
            if (!_guards.TryGetValue(first, out var known))
            {
                _guards[first] = known = [];
            }

            known.Add((parts, set));
        }
    }

    /// <summary>The parts that are read unguarded.</summary>
    public LeafSet Of(Node node)
    {
        if (_known.TryGetValue(node, out var known))
        {
            return known;
        }

        var set = new LeafSet(_space.PartCount);
        switch (node.Op)
        {
            case Op.Field:
                set.Add(_space.PartOf((int)node.Value));
                break;
            case Op.Choose:
                set.Add(Of(node.Args[1]));
                Guard(set, Holding(node.Args[0]));
                var otherwise = new LeafSet(_space.PartCount);
                otherwise.Add(Of(node.Args[2]));
                Guard(otherwise, Failing(node.Args[0]));
                set.Add(otherwise);
                set.Add(Of(node.Args[0]));
                break;
            default:
                foreach (var arg in node.Args)
                {
                    set.Add(Of(arg));
                }

                if (node.Op is Op.Both or Op.Either)
                {
                    Guard(set, node.Op == Op.Both ? node.Args : node.Args.SelectMany(Failing));
                }

                break;
        }

        return _known[node] = set;
    }

    private void Guard(LeafSet set, IEnumerable<Node> holding)
    {
        var all = holding.ToHashSet();
        foreach (var one in all)
        {
            foreach (var (parts, guarded) in _guards.GetValueOrDefault(one, []))
            {
                if (parts.IsSubsetOf(all))
                {
                    set.Remove(guarded);
                }
            }
        }
    }

    /// <summary>What surely holds where a condition does.</summary>
    private static IEnumerable<Node> Holding(Node condition) =>
        condition.Op == Op.Both ? condition.Args : [condition];

    /// <summary>What surely holds where a condition does not.</summary>
    private static IEnumerable<Node> Failing(Node condition) =>
        condition.Op switch
        {
            Op.Not => Holding(condition.Args[0]),
            Op.Either => condition.Args.SelectMany(Failing),
            _ => [],
        };
}
