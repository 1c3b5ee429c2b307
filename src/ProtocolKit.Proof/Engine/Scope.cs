namespace ProtocolKit.Proof.Engine;

/// <summary>
/// A part of the sheet that is worked out by itself: a leaf, or parts joined one after another in giving order. Of a finished
/// scope only what is read outside it is kept.
/// </summary>
internal sealed class Scope(int leaf, IReadOnlyList<Scope> children)
{
    /// <summary>The index of the leaf, or -1.</summary>
    public int Leaf => leaf;
    public IReadOnlyList<Scope> Children => children;
    public Scope? Parent { get; private set; }

    /// <summary>Its place among its parent's children.</summary>
    public int Position { get; private set; }
    public int Depth { get; private set; }
    public int First { get; } = leaf >= 0 ? leaf : children.Min(c => c.First);
    public int Last { get; } = leaf >= 0 ? leaf : children.Max(c => c.Last);

    /// <summary>True where each child lies wholly after the ones before it.</summary>
    public bool IsInOrder { get; } =
        leaf >= 0 || children.Zip(children.Skip(1)).All(p => p.First.Last < p.Second.First);

    /// <summary>Values worked out here, each after those it reads.</summary>
    public List<(Node Node, int Step)> Values { get; } = [];

    private ILookup<int, Node>? _valuesAt;

    /// <summary>What is worked out once a child is joined, each after those it reads; asked for once <see cref="Values"/> are all there.</summary>
    public IEnumerable<Node> ValuesAt(int step) =>
        (_valuesAt ??= Values.ToLookup(v => v.Step, v => v.Node))[step];

    /// <summary>What is read outside, in the order of the nodes.</summary>
    public List<Node> Outputs { get; } = [];

    /// <summary>
    /// Joins leaves by sets of them that belong together, the smallest first; a set that cuts through an earlier one takes it in
    /// whole, so the result is a tree. A set that is whole gets a scope around it, where what reads its values alone is worked
    /// out: a band is found before anything else is joined.
    /// </summary>
    /// <param name="order">By leaf: its place in the order of work.</param>
    public static Scope Tree(
        IReadOnlyList<int> leaves,
        IEnumerable<(LeafSet Leaves, bool IsWhole)> sets,
        IReadOnlyList<int> order
    )
    {
        var top = leaves.ToDictionary(l => l, l => new Scope(l, []));
        var members = top.ToDictionary(t => t.Value, t => new List<int> { t.Key });
        foreach (
            var (set, isWhole) in sets.OrderBy(s => s.Leaves.Count).ThenBy(s => s.Leaves.Leaves().First())
        )
        {
            Join([.. set.Leaves().Where(top.ContainsKey).Select(l => top[l]).Distinct()], isWhole);
        }

        var rest = top.Values.Distinct().OrderBy(Place).ToList();
        var root = rest is [{ Leaf: < 0 } only] ? only : new Scope(-1, rest);
        root.Settle(null, 0, 0);
        return root;

        int Place(Scope scope) => members[scope].Min(l => order[l]);

        void Join(List<Scope> parts, bool isWhole)
        {
            if (parts.Count == 0 || (parts.Count == 1 && (!isWhole || parts[0].Children.Count == 1)))
            {
                return;
            }

            var joined = parts.Count == 1 ? parts[0] : new Scope(-1, [.. parts.OrderBy(Place)]);
            joined = isWhole ? new Scope(-1, [joined]) : joined;
            var all = parts.SelectMany(p => members[p]).ToList();
            members[joined] = all;
            foreach (var leaf in all)
            {
                top[leaf] = joined;
            }
        }
    }

    public IEnumerable<Scope> FromTheLeaves() => children.SelectMany(c => c.FromTheLeaves()).Append(this);

    public static Scope Common(Scope a, Scope b)
    {
        while (a != b)
        {
            if (a.Depth >= b.Depth)
            {
                a = a.Parent!;
            }
            else
            {
                b = b.Parent!;
            }
        }

        return a;
    }

    /// <summary>The child of this scope that holds another scope below it.</summary>
    public Scope ChildTowards(Scope below)
    {
        while (below.Parent != this)
        {
            below = below.Parent!;
        }

        return below;
    }

    private void Settle(Scope? parent, int position, int depth)
    {
        (Parent, Position, Depth) = (parent, position, depth);
        for (var i = 0; i < children.Count; i++)
        {
            children[i].Settle(this, i, depth + 1);
        }
    }
}
