namespace ProtocolKit.Proof.Engine;

/// <summary>
/// How what is asked for depends on each value on the way to it: whether more of the value, with all others as they are, can only help,
/// can only hinder, or may do either. Read off the formulas from the end to the beginning; never wrong, but it may say either where
/// closer work would not.
/// </summary>
internal sealed class Polarity
{
    private readonly Dictionary<Node, Way> _ways = [];

    /// <param name="goals">Conditions that are all to hold.</param>
    public Polarity(IEnumerable<Node> goals)
    {
        var open = new PriorityQueue<Node, int>();
        foreach (var goal in goals)
        {
            Reads(open, goal, Way.MayRise);
        }

        // Readers have larger numbers than what they read: all of them have been here before it.
        while (open.TryDequeue(out var node, out _))
        {
            Pass(open, node, _ways[node]);
        }
    }

    /// <summary>The goal may rise, fall or either as the value grows; either where nothing is known of it.</summary>
    public Way Of(Node node) => _ways.GetValueOrDefault(node, Way.Either);

    private void Reads(PriorityQueue<Node, int> open, Node node, Way way)
    {
        if (node.IsConstant)
        {
            return;
        }

        if (_ways.TryAdd(node, way))
        {
            open.Enqueue(node, -node.Id);
        }
        else
        {
            _ways[node] |= way;
        }
    }

    private void Pass(PriorityQueue<Node, int> open, Node node, Way way)
    {
        for (var i = 0; i < node.Args.Length; i++)
        {
            Reads(open, node.Args[i], Through(node, i, way));
        }
    }

    private static Way Through(Node node, int arg, Way way) =>
        Sign(node, arg) switch
        {
            Way.MayRise => way,
            Way.MayFall => Directions.Turned(way),
            _ => Way.Either,
        };

    /// <summary>Which way a node goes as one of its parts grows.</summary>
    private static Way Sign(Node node, int arg) =>
        node.Op switch
        {
            Op.Linear => node.Numbers[arg] > 0 ? Way.MayRise : Way.MayFall,
            Op.Least or Op.Most or Op.Both or Op.Either or Op.Keep or Op.Clamp => Way.MayRise,
            Op.Not => Way.MayFall,
            Op.AtMost => arg == 0 ? Way.MayFall : Way.MayRise,
            Op.Multiply => node.Args[1 - arg] is var other && other.Low >= 0 ? Way.MayRise
            : other.High <= 0 ? Way.MayFall
            : Way.Either,
            Op.Choose => arg > 0 ? Way.MayRise
            : node.Args[1].Low >= node.Args[2].High ? Way.MayRise
            : node.Args[1].High <= node.Args[2].Low ? Way.MayFall
            : Way.Either,
            Op.Divide => arg == 0 ? Way.MayRise
            : node.Args[0].Low >= 0 ? Way.MayFall
            : Way.Either,
            Op.Equal => Equality(node.Args[arg], node.Args[1 - arg]),
            Op.Pick => Graph.Direction(node.Numbers) switch
            {
                1 => Way.MayRise,
                -1 => Way.MayFall,
                _ => Way.Either,
            },
            _ => Way.Either,
        };

    private static Way Equality(Node part, Node other) =>
        !other.IsConstant ? Way.Either
        : other.Value == part.High ? Way.MayRise
        : other.Value == part.Low ? Way.MayFall
        : Way.Either;
}
