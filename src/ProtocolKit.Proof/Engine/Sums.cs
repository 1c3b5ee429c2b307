namespace ProtocolKit.Proof.Engine;

/// <summary>
/// How the parts of one long value are joined two at a time. For a sum that is only compared, a partial sum is moved into the
/// limits beyond which the rest can no longer change the answer.
/// </summary>
internal sealed class Sums
{
    private readonly (long Low, long High) _limits;
    private readonly (long Low, long High) _whole;

    // A sum moved into limits as narrow as these is no longer kept as a set.
    private const long Narrow = 7;

    private readonly bool _onlyNarrow;

    /// <param name="onlyNarrow">Whether a sum that stays wide is left as it is, so that it is only added to.</param>
    public Sums(Node node, (long Low, long High) limits, bool onlyNarrow)
    {
        _onlyNarrow = onlyNarrow;
        (Op, Constant, _limits) = (node.Op, node.Op == Op.Linear ? node.Value : 0, limits);
        _whole = (node.Low - Constant, node.High - Constant);
    }

    public Op Op { get; }
    public long Constant { get; }

    public Node Make(Graph graph, Node? before, (Node Arg, long Factor) part, bool isLast)
    {
        if (Op != Op.Linear)
        {
            var (low, high) = Op switch
            {
                Op.Least => (Math.Min(before!.Low, part.Arg.Low), Math.Min(before.High, part.Arg.High)),
                Op.Most => (Math.Max(before!.Low, part.Arg.Low), Math.Max(before.High, part.Arg.High)),
                _ => (0, 1),
            };
            return graph.Raw(Op, [before!, part.Arg], 0, Node.NoNumbers, low, high);
        }

        var constant = isLast ? Constant : 0;
        var least = constant + Math.Min(part.Factor * part.Arg.Low, part.Factor * part.Arg.High);
        var most = constant + Math.Max(part.Factor * part.Arg.Low, part.Factor * part.Arg.High);
        return before is null
            ? graph.Raw(Op, [part.Arg], constant, [part.Factor], least, most)
            : graph.Raw(
                Op,
                [before, part.Arg],
                constant,
                [1, part.Factor],
                before.Low + least,
                before.High + most
            );
    }

    /// <summary>Compared with a bound, a partial sum matters only while what is still to come can cross it.</summary>
    public Node Clamp(Graph graph, Node partial)
    {
        if (Op != Op.Linear || _limits.Low == long.MinValue)
        {
            return partial;
        }

        // The rest lies between the whole's limits less this part's.
        var restLow = _whole.Low - PartialLow(partial);
        var restHigh = _whole.High - PartialHigh(partial);
        var clamped = graph.Clamp(partial, _limits.Low - restHigh, _limits.High - restLow);
        return _onlyNarrow && clamped.High - clamped.Low > Narrow ? partial : clamped;
    }

    /// <summary>Unclamped limits of what was joined so far: kept beside each partial sum.</summary>
    private readonly Dictionary<Node, (long Low, long High)> _unclamped = [];

    private long PartialLow(Node partial) => Unclamped(partial).Low;

    private long PartialHigh(Node partial) => Unclamped(partial).High;

    private (long Low, long High) Unclamped(Node node)
    {
        if (_unclamped.TryGetValue(node, out var known))
        {
            return known;
        }

        var (low, high) = (node.Low, node.High);
        if (node.Op == Op.Linear)
        {
            (low, high) = (node.Value, node.Value);
            for (var i = 0; i < node.Args.Length; i++)
            {
                var arg =
                    node.Args[i].Op == Op.Clamp ? Unclamped(node.Args[i].Args[0]) : Unclamped(node.Args[i]);
                low += Math.Min(node.Numbers[i] * arg.Low, node.Numbers[i] * arg.High);
                high += Math.Max(node.Numbers[i] * arg.Low, node.Numbers[i] * arg.High);
            }
        }

        return _unclamped[node] = (low, high);
    }
}
