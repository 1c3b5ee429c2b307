namespace ProtocolKit.Proof.Engine;

internal enum Op : byte
{
    Constant,
    Field,

    /// <summary><see cref="Node.Value"/> + Σ <see cref="Node.Numbers"/>[i] · <see cref="Node.Args"/>[i].</summary>
    Linear,
    Multiply,
    Least,
    Most,

    /// <summary>Args: condition, then, otherwise.</summary>
    Choose,
    Divide,

    /// <summary>Numbers: from, to, value of each case.</summary>
    Pick,
    Equal,
    AtMost,
    Both,
    Either,
    Not,

    /// <summary>The value, moved to the nearer of two limits: numbers are the lower and the upper.</summary>
    Clamp,

    /// <summary>The value itself, seen as a whole: what reads it is not worked into it.</summary>
    Keep,
}

/// <summary>
/// One value of a program after substitution. Equal values are one and the same node, so nodes compare by reference.
/// A condition is a node between 0 and 1. Arguments have smaller numbers than the nodes that read them.
/// </summary>
internal sealed class Node(int id, Op op, Node[] args, long value, long[] numbers)
{
    public static readonly Node[] NoArgs = [];
    public static readonly long[] NoNumbers = [];

    public int Id => id;
    public Op Op => op;
    public Node[] Args => args;

    /// <summary>The constant, the index of a field, or the constant part of a sum.</summary>
    public long Value => value;
    public long[] Numbers => numbers;

    /// <summary>Proved limits.</summary>
    public long Low { get; set; }
    public long High { get; set; }

    /// <summary>What divides every value, once <see cref="RunningSums"/> has been asked for it.</summary>
    public long? Unit { get; set; }

    public override bool Equals(object? obj) => ReferenceEquals(this, obj);

    public override int GetHashCode() => id;

    public bool IsConstant => op == Op.Constant;

    public bool Is(long constant) => op == Op.Constant && value == constant;

    public override string ToString() =>
        op switch
        {
            Op.Constant => $"{value}",
            Op.Field => $"f{value}",
            _ => $"{op}({string.Join(", ", args.Select(a => a.Op <= Op.Field ? a.ToString() : $"#{a.Id}"))}"
                + (numbers.Length == 0 ? ")" : $"; {value}; {string.Join(' ', numbers)})"),
        };
}

/// <summary>What a node is made of.</summary>
internal readonly record struct Shape(Op Op, Node[] Args, long Value, long[] Numbers);

/// <summary>Two nodes of the same kind with the same parts are the same.</summary>
internal sealed class NodeShape : IEqualityComparer<Node>, IAlternateEqualityComparer<Shape, Node>
{
    public static readonly NodeShape Instance = new();

    public bool Equals(Node? x, Node? y) =>
        ReferenceEquals(x, y) || (x is not null && y is not null && Equals(Of(x), y));

    public int GetHashCode(Node node) => GetHashCode(Of(node));

    public Node Create(Shape shape) =>
        throw new NotSupportedException("A node is made by its graph, which knows its number.");

    public bool Equals(Shape shape, Node node)
    {
        if (shape.Op != node.Op || shape.Value != node.Value || shape.Args.Length != node.Args.Length)
        {
            return false;
        }

        for (var i = 0; i < shape.Args.Length; i++)
        {
            if (!ReferenceEquals(shape.Args[i], node.Args[i]))
            {
                return false;
            }
        }

        return ReferenceEquals(shape.Numbers, node.Numbers)
            || shape.Numbers.AsSpan().SequenceEqual(node.Numbers);
    }

    public int GetHashCode(Shape shape)
    {
        var hash = ((uint)shape.Op * 31) + (ulong)shape.Value;
        foreach (var arg in shape.Args)
        {
            hash = (hash * 0x9E3779B97F4A7C15) + (uint)arg.Id + 1;
        }

        foreach (var number in shape.Numbers)
        {
            hash = ((hash ^ (hash >> 29)) * 0xBF58476D1CE4E5B9) + (ulong)number;
        }

        return (int)(hash ^ (hash >> 32));
    }

    private static Shape Of(Node node) => new(node.Op, node.Args, node.Value, node.Numbers);
}
