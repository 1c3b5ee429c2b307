namespace ProtocolKit.Proof.Engine;

/// <summary>A node with others put in the place of some of its parts, simplified again on the way up.</summary>
internal sealed class GraphRewrite(Graph graph, Dictionary<Node, Node> replaced)
{
    public Node Of(Node node)
    {
        if (node.Args.Length == 0 || replaced.ContainsKey(node))
        {
            return replaced.GetValueOrDefault(node, node);
        }

        var args = node.Args.Select(Of).ToArray();
        var made = args.AsSpan().SequenceEqual(node.Args) ? node : Build(node, args);
        replaced[node] = made;
        return made;
    }

    private Node Build(Node node, Node[] args) =>
        node.Op switch
        {
            Op.Linear => graph.Linear(node.Value, args.Select((a, i) => (node.Numbers[i], a))),
            Op.Multiply => graph.Multiply(args[0], args[1]),
            Op.Least => graph.Least(args),
            Op.Most => graph.Most(args),
            Op.Choose => graph.Choose(args[0], args[1], args[2]),
            Op.Divide => graph.Divide(args[0], args[1], node.Low, node.High),
            Op.Pick => graph.Pick(args[0], node.Numbers),
            Op.Equal => graph.Equal(args[0], args[1]),
            Op.AtMost => graph.AtMost(args[0], args[1]),
            Op.Both => graph.Both(args),
            Op.Either => graph.Either(args),
            Op.Not => graph.Not(args[0]),
            Op.Keep => graph.Keep(args[0]),
            Op.Clamp => graph.Clamp(args[0], node.Numbers[0], node.Numbers[1]),
            _ => throw new InvalidOperationException("A node without parts can't be rebuilt."),
        };

    /// <summary>What a node is where a condition holds or fails: what that decides about its parts is put in.</summary>
    public static Node Assume(Graph graph, Node node, Node condition, bool holds)
    {
        var known = new Dictionary<Node, Node>();
        Learn(graph, known, condition, holds);
        return new GraphRewrite(graph, known).Of(node);
    }

    /// <summary>What some conditions decide about nodes, those that only follow from several included.</summary>
    public static Dictionary<Node, Node> Known(Graph graph, List<(Node Condition, bool Holds)> facts)
    {
        var known = new Dictionary<Node, Node>();
        for (var round = 0; round < facts.Count; round++)
        {
            foreach (var (condition, holds) in facts)
            {
                var others = new Dictionary<Node, Node>(known);
                others.Remove(condition);
                Learn(graph, known, new GraphRewrite(graph, others).Of(condition), holds);
            }
        }

        return known;
    }

    private static void Learn(Graph graph, Dictionary<Node, Node> known, Node condition, bool holds)
    {
        if (condition.IsConstant)
        {
            return;
        }

        known[condition] = holds ? graph.One : graph.Zero;
        switch (condition.Op)
        {
            case Op.Not:
                Learn(graph, known, condition.Args[0], !holds);
                break;
            case Op.Both when holds:
            case Op.Either when !holds:
                foreach (var part in condition.Args)
                {
                    Learn(graph, known, part, holds);
                }

                break;
            case Op.Equal when holds && condition.Args[1].IsConstant:
                known[condition.Args[0]] = condition.Args[1];
                break;
        }
    }
}
