namespace ProtocolKit.Proof.Engine;

/// <summary>All ways to fill one part of a space: a column of values for each of its nodes.</summary>
/// <param name="Values">By node, then by way; the ways from the best to the worst (R22).</param>
/// <param name="Cost">By way: <see cref="ClassList.CostOf"/>.</param>
internal sealed record PartRows(Node[] Nodes, long[][] Values, long[] Cost)
{
    public int Count => Cost.Length;
}

/// <summary>
/// What is gone through: parts that are filled one after another, each in so many ways, and what must hold between them. Parts are
/// numbered in giving order.
/// </summary>
internal abstract class Space
{
    private static readonly Dictionary<int, Node> None = [];

    private int[]? _workOrder;

    public abstract int PartCount { get; }

    /// <summary>By part: its place in the order of work.</summary>
    public IReadOnlyList<int> Order => _workOrder ??= WorkOrder.Of(this);

    private readonly Dictionary<Node, LeafSet?> _sets = [];

    /// <summary>The parts a value reads; null for a constant.</summary>
    public LeafSet? SetOf(Node node)
    {
        if (node.IsConstant)
        {
            return null;
        }

        if (_sets.TryGetValue(node, out var known))
        {
            return known;
        }

        var set = new LeafSet(PartCount);
        if (node.Op == Op.Field)
        {
            set.Add(PartOf((int)node.Value));
        }

        foreach (var arg in node.Args)
        {
            if (SetOf(arg) is { } inner)
            {
                set.Add(inner);
            }
        }

        return _sets[node] = set;
    }

    /// <exception cref="ProofLimitException">There are too many to list.</exception>
    public abstract PartRows RowsOf(int part);

    /// <summary>Parts of one task share a number, -1 for what belongs to none; trials count from 1, 0 for what is in none.</summary>
    public abstract (int Task, int Trial) PlaceOf(int part);

    /// <summary>The part that holds a field, or -1.</summary>
    public abstract int PartOf(int field);

    /// <summary>By task: what must hold between parts.</summary>
    public abstract IReadOnlyList<(int Task, Node Condition)> Conditions { get; }

    /// <summary>What must hold over all parts that a question touches; null: nothing.</summary>
    public virtual Node? Overall(IEnumerable<int> parts) => null;

    /// <summary>By task: which of its trials is kept, where several are given.</summary>
    public virtual IReadOnlyDictionary<int, Node> ChosenTrials => None;
}
