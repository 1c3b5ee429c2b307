namespace ProtocolKit.Proof.Engine;

/// <summary>Comparisons against a constant on the right, conjunctions, disjunctions and negation.</summary>
internal sealed partial class Graph
{
    public Node AtMost(Node a, Node b)
    {
        if (a.High <= b.Low || a == b)
        {
            return One;
        }

        if (a.Low > b.High)
        {
            return Zero;
        }

        if (a.IsConstant)
        {
            // c ≤ b is not (b ≤ c - 1).
            return Not(AtMost(b, Constant(a.Value - 1)));
        }

        if (!b.IsConstant)
        {
            return Comparison(Op.AtMost, a, b);
        }

        // At an end of a field's values a comparison is an equality: one node for one condition.
        if (a.Op == Op.Field && b.Value == a.Low)
        {
            return Equal(a, b);
        }

        if (a.Op == Op.Field && b.Value == a.High - 1)
        {
            return Not(Equal(a, Constant(a.High)));
        }

        if (a.Op == Op.Linear && (a.Value != 0 || a.Args.Length == 1))
        {
            return AtMostOfSum(a, b.Value);
        }

        if (a is { Low: 0, High: 1 })
        {
            return Not(a);
        }

        if (a.Op == Op.Most)
        {
            return Both(a.Args.Select(p => AtMost(p, b)));
        }

        if (a.Op == Op.Least)
        {
            return Either(a.Args.Select(p => AtMost(p, b)));
        }

        if (a.Op == Op.Choose && HasPlain(a))
        {
            return Choose(a.Args[0], AtMost(a.Args[1], b), AtMost(a.Args[2], b));
        }

        return a.Op == Op.Pick ? PickedIs(a, v => v <= b.Value) : Comparison(Op.AtMost, a, b);
    }

    private Node AtMostOfSum(Node sum, long bound)
    {
        bound -= sum.Value;
        if (sum.Args.Length > 1)
        {
            return AtMost(Linear(-sum.Value, [(1, sum)]), Constant(bound));
        }

        var factor = sum.Numbers[0];
        return factor > 0
            ? AtMost(sum.Args[0], Constant(FloorDiv(bound, factor)))
            : AtMost(Constant(-FloorDiv(bound, -factor)), sum.Args[0]);
    }

    private static long FloorDiv(long a, long b)
    {
        var quotient = a / b;
        return a % b != 0 && a < 0 ? quotient - 1 : quotient;
    }

    public Node Equal(Node a, Node b)
    {
        if (a == b)
        {
            return One;
        }

        if (a.High < b.Low || b.High < a.Low)
        {
            return Zero;
        }

        if (a.IsConstant)
        {
            (a, b) = (b, a);
        }

        if (!b.IsConstant)
        {
            return a.Id < b.Id ? Comparison(Op.Equal, a, b) : Comparison(Op.Equal, b, a);
        }

        if (a.Low == 0 && a.High == 1)
        {
            return b.Value == 1 ? a : Not(a);
        }

        switch (a.Op)
        {
            case Op.Field when a.Numbers.Length > 0 && Array.BinarySearch(a.Numbers, b.Value) < 0:
                return Zero;
            case Op.Linear when a.Args.Length == 1:
                var rest = b.Value - a.Value;
                return rest % a.Numbers[0] == 0 ? Equal(a.Args[0], Constant(rest / a.Numbers[0])) : Zero;
            case Op.Linear when a.Value != 0:
                return Equal(Linear(-a.Value, [(1, a)]), Constant(b.Value - a.Value));
            case Op.Choose when HasPlain(a):
                return Choose(a.Args[0], Equal(a.Args[1], b), Equal(a.Args[2], b));
            case Op.Pick:
                return PickedIs(a, v => v == b.Value);
        }

        // At an end of its limits an equality is a comparison.
        return b.Value == a.Low && a.Op != Op.Field ? AtMost(a, b)
            : b.Value == a.High && a.Op != Op.Field ? Not(AtMost(a, Constant(b.Value - 1)))
            : Comparison(Op.Equal, a, b);
    }

    /// <summary>A comparison with a constant, or with yes or no, comes to little.</summary>
    private static bool HasPlain(Node choice) => IsPlain(choice.Args[1]) || IsPlain(choice.Args[2]);

    private static bool IsPlain(Node node) => node.IsConstant || node is { Low: 0, High: 1 };

    /// <summary>A condition on what is picked is one on the subject.</summary>
    private Node PickedIs(Node pick, Func<long, bool> holds)
    {
        var subject = pick.Args[0];
        var any = new List<Node>();
        var cases = pick.Numbers;
        for (var i = 0; i < cases.Length; i += 3)
        {
            if (!holds(cases[i + 2]))
            {
                continue;
            }

            var from = cases[i];
            while (i + 3 < cases.Length && holds(cases[i + 5]))
            {
                i += 3;
            }

            any.Add(Between(subject, from, cases[i + 1]));
        }

        return Either(any);
    }

    private Node Between(Node a, long from, long to) =>
        from == to ? Equal(a, Constant(from)) : Both([AtMost(Constant(from), a), AtMost(a, Constant(to))]);

    private Node Comparison(Op op, Node a, Node b)
    {
        var node = Make(op, [a, b], 0, Node.NoNumbers);
        (node.Low, node.High) = (0, 1);
        return node;
    }

    public Node Not(Node a)
    {
        switch (a.Op)
        {
            case Op.Constant:
                return a.Value == 0 ? One : Zero;
            case Op.Not:
                return a.Args[0];
            default:
                var node = Make(Op.Not, [a], 0, Node.NoNumbers);
                (node.Low, node.High) = (0, 1);
                return node;
        }
    }

    public Node Both(IEnumerable<Node> parts) => Joined(Op.Both, parts);

    public Node Either(IEnumerable<Node> parts) => Joined(Op.Either, parts);

    private Node Joined(Op op, IEnumerable<Node> parts)
    {
        var (neutral, absorbing) = op == Op.Both ? (One, Zero) : (Zero, One);
        var flat = new HashSet<Node>();
        foreach (var part in parts)
        {
            foreach (var inner in part.Op == op ? part.Args : [part])
            {
                if (inner == absorbing)
                {
                    return absorbing;
                }

                if (inner != neutral)
                {
                    flat.Add(inner);
                }
            }
        }

        if (flat.Any(p => p.Op == Op.Not && flat.Contains(p.Args[0])))
        {
            return absorbing;
        }

        if (flat.Count == 0)
        {
            return neutral;
        }

        if (flat.Count == 1)
        {
            return flat.First();
        }

        var node = Make(op, [.. flat.OrderBy(p => p.Id)], 0, Node.NoNumbers);
        (node.Low, node.High) = (0, 1);
        return node;
    }
}
