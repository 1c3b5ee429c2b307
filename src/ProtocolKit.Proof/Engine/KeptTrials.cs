namespace ProtocolKit.Proof.Engine;

/// <summary>
/// What a task hands on depends on its trials through the kept one only. Written as “if the last trial is kept then this of the last
/// trial, otherwise …”, each trial can be worked out and forgotten before the next: a count and a time become one rate at once.
/// </summary>
internal sealed class KeptTrials(Space space, Graph graph)
{
    private readonly IReadOnlyDictionary<int, Node> _chosen = space.ChosenTrials;
    private readonly TaskOfNode _tasks = new(space);
    private readonly Dictionary<Node, Node> _replaced = [];
    private readonly HashSet<Node> _seen = [];
    private readonly Dictionary<Node, bool> _wholes = [];

    public List<Node> Separate(IReadOnlyList<Node> roots)
    {
        if (_chosen.Count == 0)
        {
            return [.. roots];
        }

        foreach (var root in roots)
        {
            Visit(root, isBoundary: true);
        }

        return _replaced.Count == 0 ? [.. roots] : [.. roots.Select(new GraphRewrite(graph, _replaced).Of)];
    }

    private void Visit(Node node, bool isBoundary)
    {
        var task = _tasks.Of(node);
        if (task == TaskOfNode.None)
        {
            return;
        }

        if (task >= 0)
        {
            if (isBoundary && _chosen.TryGetValue(task, out var selector) && node.Args.Length > 0)
            {
                if (HasWhole(node.Op == Op.Keep ? node.Args[0] : node, _wholes))
                {
                    foreach (var arg in node.Args)
                    {
                        Visit(arg, isBoundary: true);
                    }

                    return;
                }

                var made =
                    node.Op == Op.Keep
                        ? graph.Keep(Split(space, graph, node.Args[0], selector, []))
                        : Split(space, graph, node, selector, []);
                _replaced.TryAdd(node, made);
            }

            return;
        }

        if (_seen.Add(node))
        {
            foreach (var arg in node.Args)
            {
                Visit(arg, isBoundary: true);
            }
        }
    }

    /// <summary>True where a value that is kept whole stands in a node: what is read of it stays outside.</summary>
    private static bool HasWhole(Node node, Dictionary<Node, bool> known)
    {
        if (!known.TryGetValue(node, out var has))
        {
            known[node] = has = node.Op == Op.Keep || Array.Exists(node.Args, a => HasWhole(a, known));
        }

        return has;
    }

    private static Node Split(
        Space space,
        Graph graph,
        Node node,
        Node selector,
        List<(Node Condition, bool Holds)> facts
    )
    {
        if (selector.IsConstant || (selector.Op != Op.Choose && selector is not { Low: 0, High: 1 }))
        {
            return WithoutTrial(space, graph, node, facts);
        }

        // “1 if the first trial counts, else 0” is that condition itself.
        var isChoice = selector.Op == Op.Choose;
        var condition = isChoice ? selector.Args[0] : selector;
        return graph.Choose(
            condition,
            Branch(isChoice ? selector.Args[1] : graph.One, true),
            Branch(isChoice ? selector.Args[2] : graph.Zero, false)
        );

        Node Branch(Node rest, bool holds) =>
            Split(
                space,
                graph,
                GraphRewrite.Assume(graph, node, condition, holds),
                GraphRewrite.Assume(graph, rest, condition, holds),
                [.. facts, (condition, holds)]
            );
    }

    /// <summary>
    /// The gravest reason why no trial counts is read only where none does. Kept as nothing from the first trial on that is given,
    /// it need not be remembered beside the best trial so far.
    /// </summary>
    private static Node WithoutTrial(
        Space space,
        Graph graph,
        Node node,
        List<(Node Condition, bool Holds)> facts
    )
    {
        var known = GraphRewrite.Known(graph, facts);
        node = new GraphRewrite(graph, new Dictionary<Node, Node>(known)).Of(node);
        var failed = known.Where(k => k.Key.Op == Op.Both && k.Value.Is(0)).Select(k => k.Key).ToList();
        var replaced = new Dictionary<Node, Node>();
        var visited = new HashSet<Node>();
        Visit(node);
        return replaced.Count == 0 ? node : new GraphRewrite(graph, replaced).Of(node);

        void Visit(Node part)
        {
            if (!visited.Add(part))
            {
                return;
            }

            // All of many fail where all of some of them do.
            if (part.Op == Op.Both && failed.Exists(f => Array.TrueForAll(f.Args, part.Args.Contains)))
            {
                replaced[part] = graph.Zero;
                return;
            }

            if (part.Op == Op.Most && Array.TrueForAll(part.Args, a => a.Op == Op.Field))
            {
                var trials = part
                    .Args.GroupBy(a => space.PlaceOf(space.PartOf((int)a.Value)).Trial)
                    .OrderBy(t => t.Key)
                    .Select(t =>
                        (States: t.ToList(), Given: graph.Both(t.Select(s => graph.Equal(s, graph.Zero))))
                    )
                    .ToList();
                if (
                    trials.Count > 1
                    && trials.TrueForAll(t => known.TryGetValue(t.Given, out var is0) && is0.Is(0))
                )
                {
                    replaced[part] = Masked(graph, trials);
                }

                return;
            }

            foreach (var arg in part.Args)
            {
                Visit(arg);
            }
        }
    }

    private static Node Masked(Graph graph, List<(List<Node> States, Node Given)> trials)
    {
        Node gravest = graph.Zero;
        Node any = graph.Zero;
        foreach (var (states, given) in trials)
        {
            any = graph.Either([any, given]);
            gravest = graph.Choose(any, graph.Zero, graph.Most([gravest, .. states]));
        }

        return gravest;
    }
}

/// <summary>Whose answers a node reads: one task's, several tasks', or none.</summary>
internal sealed class TaskOfNode(Space space)
{
    public const int None = -2;
    public const int Several = -1;
    private readonly Dictionary<Node, int> _known = [];

    public int Of(Node node)
    {
        if (node.IsConstant)
        {
            return None;
        }

        if (_known.TryGetValue(node, out var known))
        {
            return known;
        }

        var task = None;
        if (node.Op == Op.Field)
        {
            task = space.PlaceOf(space.PartOf((int)node.Value)).Task;
        }

        foreach (var arg in node.Args)
        {
            var other = Of(arg);
            task =
                other == None ? task
                : task == None ? other
                : task == other ? task
                : Several;
        }

        return _known[node] = task;
    }
}
