namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Puts every value into the smallest scope that knows its parts, long sums and chains split along the tree of scopes so that each scope
/// hands on one part of them.
/// </summary>
internal sealed class Planner
{
    private readonly Graph _graph;
    private readonly Dictionary<Node, Node> _planned = [];
    private readonly Dictionary<Node, Scope> _scope = [];
    private readonly Dictionary<Node, int> _step = [];
    private readonly Dictionary<int, Scope> _leafScopes = [];
    private readonly Func<int, int> _leafOfField;
    private readonly bool _forSets;

    private Planner(Graph graph, Scope root, Func<int, int> leafOfField, bool forSets)
    {
        (_graph, _leafOfField, _forSets) = (graph, leafOfField, forSets);
        foreach (var scope in root.FromTheLeaves().Where(s => s.Leaf >= 0))
        {
            _leafScopes[scope.Leaf] = scope;
        }
    }

    /// <param name="conditions">What must hold; rows for which one fails are dropped.</param>
    /// <param name="forSets">Whether wide sums are left to be added to (<see cref="SetPass"/>).</param>
    public static Plan Of(
        Graph graph,
        Scope root,
        Func<int, int> leafOfField,
        IReadOnlyList<Node> roots,
        IReadOnlyList<Node> conditions,
        bool forSets = false
    )
    {
        var planner = new Planner(graph, root, leafOfField, forSets);
        var plan = new Plan(
            root,
            [.. roots.Select(planner.Planned)],
            [.. conditions.Select(planner.Planned).Where(c => !c.Is(1))]
        );
        planner.Arrange(plan.Roots);
        return plan;
    }

    private Node Planned(Node node)
    {
        if (node.IsConstant)
        {
            return node;
        }

        if (_planned.TryGetValue(node, out var known))
        {
            return known;
        }

        var planned = node.Op switch
        {
            Op.Field => Place(node, _leafScopes[_leafOfField((int)node.Value)], 0),
            Op.Linear or Op.Least or Op.Most or Op.Both or Op.Either => Split(
                node,
                [.. node.Args.Select(Planned)],
                (long.MinValue, long.MaxValue)
            ),
            Op.AtMost or Op.Equal when IsCounter(node) => Counter(node),
            _ => PlaceOver(node, [.. node.Args.Select(Planned)]),
        };
        _planned[node] = planned;
        return planned;
    }

    private static bool IsCounter(Node node) => node.Args[0].Op == Op.Linear && node.Args[1].IsConstant;

    /// <summary>A sum that is only compared is kept no further than it can still matter.</summary>
    private Node Counter(Node node)
    {
        var (sum, bound) = (node.Args[0], node.Args[1].Value);
        var limits = node.Op == Op.AtMost ? (bound, bound + 1) : (bound - 1, bound + 1);
        return PlaceOver(node, [Split(sum, [.. sum.Args.Select(Planned)], limits), node.Args[1]]);
    }

    private Node PlaceOver(Node node, Node[] args)
    {
        var copy = _graph.Raw(node.Op, args, node.Value, node.Numbers, node.Low, node.High);
        var scope = args.Where(a => !a.IsConstant).Select(SeenIn).Aggregate(Scope.Common);
        return Place(copy, scope, args.Where(a => !a.IsConstant).Max(a => StepIn(scope, a)));
    }

    private Node Place(Node node, Scope scope, int step)
    {
        _scope[node] = scope;
        _step[node] = step;
        return node;
    }

    /// <summary>Where a value is read from: one that is kept whole is read from outside its scope, so the scope hands on nothing else.</summary>
    private Scope SeenIn(Node arg) =>
        arg.Op == Op.Keep && _scope[arg].Parent is { } parent ? parent : _scope[arg];

    private int StepIn(Scope scope, Node arg)
    {
        var at = _scope[arg];
        return at == scope ? _step[arg] : scope.ChildTowards(at).Position;
    }

    private Node Split(Node node, Node[] args, (long Low, long High) limits)
    {
        var parts = args.Select((a, i) => (Arg: a, Factor: node.Op == Op.Linear ? node.Numbers[i] : 1))
            .ToList();
        var sums = new Sums(node, limits, _forSets);
        var joined = Split(sums, [.. parts.Where(p => !p.Arg.IsConstant)], isWhole: true);

        // A bound that is a constant, such as the 1 in “at least 1”.
        return Array.Find(args, a => a.IsConstant) is { } constant
            ? PlaceOver(node, [joined, constant])
            : joined;
    }

    /// <summary>One part of a long value per child, joined in the order in which they are known.</summary>
    private Node Split(Sums sums, List<(Node Arg, long Factor)> parts, bool isWhole)
    {
        if (parts.Count == 1)
        {
            return sums.Op == Op.Linear ? Joined(sums, null, parts[0], isWhole) : parts[0].Arg;
        }

        var scope = parts.Select(p => SeenIn(p.Arg)).Aggregate(Scope.Common);
        var groups = parts
            .GroupBy(p => SeenIn(p.Arg) == scope ? null : scope.ChildTowards(SeenIn(p.Arg)))
            .SelectMany(g =>
                g.Key is null || g.Count() == 1
                    ? g.Select(p => p)
                    : [(Split(sums, [.. g], isWhole: false), 1L)]
            )
            .OrderBy(p => StepIn(scope, p.Item1))
            .ToList();
        Node? joined = null;
        for (var i = 0; i < groups.Count; i++)
        {
            joined =
                i == 0 && sums.Op != Op.Linear
                    ? groups[0].Item1
                    : Joined(sums, joined, groups[i], isWhole && i == groups.Count - 1);
        }

        return joined!;
    }

    private Node Joined(Sums sums, Node? before, (Node Arg, long Factor) part, bool isLast)
    {
        if (before is null && part.Factor == 1 && !(isLast && sums.Constant != 0))
        {
            return part.Arg;
        }

        Node[] args = before is null ? [part.Arg] : [before, part.Arg];
        var scope = args.Select(SeenIn).Aggregate(Scope.Common);
        var step = args.Max(a => StepIn(scope, a));
        var made = sums.Make(_graph, before, part, isLast);
        made = Place(made, scope, step);
        var clamped = sums.Clamp(_graph, made);
        return clamped.IsConstant || clamped == made ? made : Place(clamped, scope, step);
    }

    /// <summary>Lists every value at its scope, and every value read further up as an output of the scopes below.</summary>
    private void Arrange(IReadOnlyList<Node> roots)
    {
        foreach (var (node, scope) in _scope.OrderBy(p => p.Key.Id))
        {
            if (node.Op != Op.Field)
            {
                scope.Values.Add((node, _step[node]));
            }
        }

        var outputs = new HashSet<(Scope, Node)>();
        foreach (var (node, scope) in _scope.OrderBy(p => p.Key.Id))
        {
            foreach (var arg in node.Args.Where(a => !a.IsConstant))
            {
                HandOn(arg, scope, outputs);
            }
        }

        foreach (var root in roots.Where(r => !r.IsConstant))
        {
            HandOn(root, null, outputs);
        }
    }

    private void HandOn(Node node, Scope? reader, HashSet<(Scope, Node)> outputs)
    {
        for (var scope = _scope[node]; scope != reader; scope = scope.Parent!)
        {
            if (outputs.Add((scope, node)))
            {
                scope.Outputs.Add(node);
            }

            if (scope.Parent is null)
            {
                break;
            }
        }
    }
}
