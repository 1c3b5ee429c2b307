namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Values as a graph without repetitions, simplified while it is built. Every rule keeps the value for all fields within
/// their bounds; the rules are what lets decided parts of a program vanish before anything is counted.
/// </summary>
internal sealed partial class Graph
{
    private readonly HashSet<Node> _nodes = new(NodeShape.Instance);
    private readonly HashSet<Node>.AlternateLookup<Shape> _byShape;

    public Graph()
    {
        _byShape = _nodes.GetAlternateLookup<Shape>();
        Zero = Constant(0);
        One = Constant(1);
    }

    public Node Zero { get; }
    public Node One { get; }
    public int Count => _nodes.Count;

    public Node Constant(long value)
    {
        var node = Make(Op.Constant, Node.NoArgs, value, Node.NoNumbers);
        (node.Low, node.High) = (value, value);
        return node;
    }

    /// <param name="key">Its number; the same key gives the same field.</param>
    /// <param name="domain">All values it can take, ascending; empty where every one between the limits can.</param>
    public Node Field(int key, long low, long high, long[] domain)
    {
        if (low == high)
        {
            return Constant(low);
        }

        var node = Make(Op.Field, Node.NoArgs, key, domain);
        (node.Low, node.High) = (low, high);
        return node;
    }

    public Node Multiply(Node a, Node b)
    {
        if (a.IsConstant)
        {
            return Times(b, a.Value);
        }

        if (b.IsConstant)
        {
            return Times(a, b.Value);
        }

        (a, b) = a.Id <= b.Id ? (a, b) : (b, a);
        var node = Make(Op.Multiply, [a, b], 0, Node.NoNumbers);
        Span<long> corners = [a.Low * b.Low, a.Low * b.High, a.High * b.Low, a.High * b.High];
        (node.Low, node.High) = (Min(corners), Max(corners));
        return node;
    }

    public Node Divide(Node a, Node b, long low, long high)
    {
        if (a.IsConstant && b.IsConstant)
        {
            return Constant(a.Value / b.Value);
        }

        if (b.Is(1))
        {
            return a;
        }

        var node = Make(Op.Divide, [a, b], 0, Node.NoNumbers);
        var isNew = node.High == 0;
        low = Math.Max(Math.Max(0, a.Low) / Math.Max(1, b.High), low);
        high = Math.Min(a.High / Math.Max(1, b.Low), high);
        (node.Low, node.High) = isNew ? (low, high) : (Math.Max(low, node.Low), Math.Min(high, node.High));
        return node.Low == node.High ? Constant(node.Low) : node;
    }

    public Node Clamp(Node a, long low, long high)
    {
        if (a.Low >= low && a.High <= high)
        {
            return a;
        }

        if (low >= high || a.High <= low || a.Low >= high)
        {
            return Constant(a.High <= low || low >= high ? low : high);
        }

        var node = Make(Op.Clamp, [a], 0, [low, high]);
        (node.Low, node.High) = (Math.Max(a.Low, low), Math.Min(a.High, high));
        return node;
    }

    /// <summary>
    /// The value as a whole. Every question about bands then asks the same of a task, and it is worked out once for all of them.
    /// </summary>
    public Node Keep(Node a)
    {
        if (a.Op is Op.Constant or Op.Field or Op.Keep)
        {
            return a;
        }

        var node = Make(Op.Keep, [a], 0, Node.NoNumbers);
        (node.Low, node.High) = (a.Low, a.High);
        return node;
    }

    /// <summary>A node exactly as said, for plans that split long sums and chains into steps.</summary>
    public Node Raw(Op op, Node[] args, long value, long[] numbers, long low, long high)
    {
        var node = Make(op, args, value, numbers);
        (node.Low, node.High) = (low, high);
        return node;
    }

    private Node Make(Op op, Node[] args, long value, long[] numbers)
    {
        if (!_byShape.TryGetValue(new Shape(op, args, value, numbers), out var node))
        {
            _nodes.Add(node = new Node(_nodes.Count, op, args, value, numbers));
        }

        return node;
    }

    private static long Min(ReadOnlySpan<long> values)
    {
        var least = values[0];
        foreach (var value in values)
        {
            least = Math.Min(least, value);
        }

        return least;
    }

    private static long Max(ReadOnlySpan<long> values)
    {
        var most = values[0];
        foreach (var value in values)
        {
            most = Math.Max(most, value);
        }

        return most;
    }
}
