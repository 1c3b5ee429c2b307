namespace ProtocolKit.Proof.Engine;

/// <summary>What nodes come to on one sheet.</summary>
/// <param name="field">The value of a field, by its number.</param>
internal sealed class NodeValues(Func<long, long> field)
{
    private readonly Dictionary<Node, long> _known = [];

    /// <summary>Whether a node reads no fields but some.</summary>
    public static bool RestsOn(Node node, Func<long, bool> isSome) =>
        node.IsConstant
        || (node.Op == Op.Field ? isSome(node.Value) : Array.TrueForAll(node.Args, a => RestsOn(a, isSome)));

    /// <summary>Forgets what was worked out: the fields have other values now.</summary>
    public void Clear() => _known.Clear();

    public long Of(Node node)
    {
        if (!_known.TryGetValue(node, out var value))
        {
            _known[node] = value = Find(node, node.Args);
        }

        return value;
    }

    private long Find(Node node, Node[] args) =>
        node.Op switch
        {
            Op.Constant => node.Value,
            Op.Field => field(node.Value),
            Op.Linear => Sum(node, args),
            Op.Multiply => Of(args[0]) * Of(args[1]),
            Op.Least or Op.Both => Least(args),
            Op.Most or Op.Either => Most(args),
            Op.Choose => Of(args[0]) != 0 ? Of(args[1]) : Of(args[2]),
            Op.Divide => Of(args[0]) / Of(args[1]),
            Op.Pick => Case(node.Numbers, Of(args[0])),
            Op.Equal => Of(args[0]) == Of(args[1]) ? 1 : 0,
            Op.AtMost => Of(args[0]) <= Of(args[1]) ? 1 : 0,
            Op.Not => 1 - Of(args[0]),
            Op.Keep => Of(args[0]),
            _ => Math.Clamp(Of(args[0]), node.Numbers[0], node.Numbers[1]),
        };

    private long Sum(Node node, Node[] args)
    {
        var sum = node.Value;
        for (var i = 0; i < args.Length; i++)
        {
            sum += node.Numbers[i] * Of(args[i]);
        }

        return sum;
    }

    private long Least(Node[] args)
    {
        var least = long.MaxValue;
        foreach (var arg in args)
        {
            least = Math.Min(least, Of(arg));
        }

        return least;
    }

    private long Most(Node[] args)
    {
        var most = long.MinValue;
        foreach (var arg in args)
        {
            most = Math.Max(most, Of(arg));
        }

        return most;
    }

    private static long Case(long[] cases, long subject)
    {
        var i = 0;
        while (i + 3 < cases.Length && subject > cases[i + 1])
        {
            i += 3;
        }

        return cases[i + 2];
    }
}
