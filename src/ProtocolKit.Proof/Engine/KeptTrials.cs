using ProtocolKit.Model;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Engine;

/// <summary>
/// What a task hands on depends on its trials through the kept one only. Written as “if the last trial is kept then this of the last
/// trial, otherwise …”, each trial can be worked out and forgotten before the next: a count and a time become one rate at once.
/// </summary>
internal static class KeptTrials
{
    public static List<Node> Separate(RecordSpace space, Graph graph, IReadOnlyList<Node> roots)
    {
        var chosen = Chosen(space);
        if (chosen.Count == 0)
        {
            return [.. roots];
        }

        var tasks = new TaskOfNode(space);
        var replaced = new Dictionary<Node, Node>();
        var seen = new HashSet<Node>();
        foreach (var root in roots)
        {
            Visit(root, isBoundary: true);
        }

        return replaced.Count == 0 ? [.. roots] : [.. roots.Select(new GraphRewrite(graph, replaced).Of)];

        void Visit(Node node, bool isBoundary)
        {
            var task = tasks.Of(node);
            if (task == TaskOfNode.None)
            {
                return;
            }

            if (task >= 0)
            {
                if (isBoundary && chosen.TryGetValue(task, out var selector) && node.Args.Length > 0)
                {
                    replaced.TryAdd(node, Split(graph, node, selector));
                }

                return;
            }

            if (seen.Add(node))
            {
                foreach (var arg in node.Args)
                {
                    Visit(arg, isBoundary: true);
                }
            }
        }
    }

    private static Dictionary<int, Node> Chosen(RecordSpace space)
    {
        var chosen = new Dictionary<int, Node>();
        foreach (var kept in space.Protocol.Program.Kept.Where(k => k.TrialLine >= 0))
        {
            var slot = space.Protocol.Program.Answers.First(a =>
                a.Task.Name == kept.Task.Name && a.Variant.Name == kept.Variant.Name
            );
            var leaf = space.LeafOf(slot.ValueField);
            var line = leaf < 0 ? null : space.Lines.Line(kept.TrialLine);
            if (line is { IsConstant: false })
            {
                chosen[space.Leaves[leaf].Task] = line;
            }
        }

        return chosen;
    }

    private static Node Split(Graph graph, Node node, Node selector)
    {
        if (selector.Op != Op.Choose)
        {
            return node;
        }

        var condition = selector.Args[0];
        var then = Split(
            graph,
            GraphRewrite.Assume(graph, node, condition, true),
            GraphRewrite.Assume(graph, selector.Args[1], condition, true)
        );
        var otherwise = Split(
            graph,
            GraphRewrite.Assume(graph, node, condition, false),
            GraphRewrite.Assume(graph, selector.Args[2], condition, false)
        );
        return graph.Choose(condition, then, otherwise);
    }
}

/// <summary>Whose answers a node reads: one task's, several tasks', or none.</summary>
internal sealed class TaskOfNode(RecordSpace space)
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
            task = space.Leaves[space.LeafOf((int)node.Value)].Task;
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
