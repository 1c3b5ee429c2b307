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
/// <param name="like">Another space of the same graph whose parts hold the same fields: a value reads the same parts of both.</param>
internal abstract class Space(Space? like = null)
{
    private static readonly Dictionary<int, Node> None = [];

    private int[]? _workOrder;

    public abstract int PartCount { get; }

    /// <summary>By part: its place in the order of work.</summary>
    public IReadOnlyList<int> Order => _workOrder ??= WorkOrder.Of(this);

    private readonly Dictionary<Node, LeafSet?> _sets = like?._sets ?? [];

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

    /// <summary>What a part that is guessed has to come to; null for an answer.</summary>
    public virtual Node? Behind(int part) => null;

    /// <summary>
    /// Conditions worth guessing: many tasks wait for each, and it rests on none of them. Those that the same tasks wait for stand
    /// together.
    /// </summary>
    public virtual IReadOnlyList<IReadOnlyList<Node>> WorthGuessing => [];

    /// <param name="given">Of each sheet by task that may not be given: when it is, and its parts.</param>
    protected IReadOnlyList<IReadOnlyList<Node>> Shared(
        params IReadOnlyList<(Node Given, IReadOnlyList<int> Parts)>[] given
    ) =>
        [
            .. given
                .SelectMany(sheet =>
                    sheet.SelectMany((t, i) => Holding(t.Given).Select(c => (c, i, t.Parts)))
                )
                .GroupBy(c => c.c)
                .Where(c => c.Count() > 1 && !Rests(c.Key, c.SelectMany(t => t.Parts)))
                .GroupBy(c => string.Join(' ', c.Select(t => t.i)), c => c.Key)
                .Select(c => c.OrderBy(n => n.Id).ToList()),
        ];

    private static IEnumerable<Node> Holding(Node given) =>
        (given.Op == Op.Both ? given.Args : [given])
            .Select(c => c.Op == Op.Not ? c.Args[0] : c)
            .Where(c => !c.IsConstant && c.Op != Op.Field);

    private bool Rests(Node condition, IEnumerable<int> parts)
    {
        var set = new LeafSet(PartCount);
        foreach (var part in parts)
        {
            set.Add(part);
        }

        return SetOf(condition)!.Overlaps(set);
    }
}
