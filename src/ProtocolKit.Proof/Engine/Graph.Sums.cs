namespace ProtocolKit.Proof.Engine;

/// <summary>Sums as constant + Σ factor · part, least and most of several, and choices between values.</summary>
internal sealed partial class Graph
{
    public Node Add(Node a, Node b) => Linear(0, [(1, a), (1, b)]);

    public Node Subtract(Node a, Node b) => Linear(0, [(1, a), (-1, b)]);

    public Node Times(Node a, long factor) => Linear(0, [(factor, a)]);

    /// <summary>Parts are flattened, joined and ordered, so that equal sums are one node.</summary>
    public Node Linear(long constant, IEnumerable<(long Factor, Node Part)> parts)
    {
        var terms = new Dictionary<Node, long>();
        foreach (var (factor, part) in parts)
        {
            Collect(ref constant, terms, factor, part);
        }

        var kept = terms.Where(t => t.Value != 0).OrderBy(t => t.Key.Id).ToList();
        if (kept.Count == 0)
        {
            return Constant(constant);
        }

        if (kept is [{ Value: 1 } only] && constant == 0)
        {
            return only.Key;
        }

        var node = Make(Op.Linear, [.. kept.Select(t => t.Key)], constant, [.. kept.Select(t => t.Value)]);
        var (low, high) = (constant, constant);
        foreach (var (part, factor) in kept)
        {
            low += Math.Min(factor * part.Low, factor * part.High);
            high += Math.Max(factor * part.Low, factor * part.High);
        }

        (node.Low, node.High) = (low, high);
        return node;
    }

    private static void Collect(ref long constant, Dictionary<Node, long> terms, long factor, Node part)
    {
        switch (part.Op)
        {
            case Op.Constant:
                constant += factor * part.Value;
                break;
            case Op.Linear:
                constant += factor * part.Value;
                for (var i = 0; i < part.Args.Length; i++)
                {
                    terms[part.Args[i]] = terms.GetValueOrDefault(part.Args[i]) + (factor * part.Numbers[i]);
                }

                break;
            default:
                terms[part] = terms.GetValueOrDefault(part) + factor;
                break;
        }
    }

    public Node Least(IEnumerable<Node> parts) => Extreme(Op.Least, parts);

    public Node Most(IEnumerable<Node> parts) => Extreme(Op.Most, parts);

    private Node Extreme(Op op, IEnumerable<Node> parts)
    {
        var flat = parts.SelectMany(p => p.Op == op ? p.Args : [p]).Distinct().ToList();
        var isLeast = op == Op.Least;
        var bound = isLeast ? flat.Min(p => p.High) : flat.Max(p => p.Low);

        // A part that can never win against another one falls away; of equal constants one stays.
        var winners = flat.Where(p => isLeast ? p.Low < bound : p.High > bound).OrderBy(p => p.Id).ToList();
        var edge = flat.Where(p => isLeast ? p.High == bound : p.Low == bound).MinBy(p => p.Id)!;
        if (!winners.Contains(edge))
        {
            winners.Add(edge);
        }

        if (winners.Count == 1)
        {
            return winners[0];
        }

        var node = Make(op, [.. winners.OrderBy(p => p.Id)], 0, Node.NoNumbers);
        node.Low = isLeast ? winners.Min(p => p.Low) : winners.Max(p => p.Low);
        node.High = isLeast ? winners.Min(p => p.High) : winners.Max(p => p.High);
        return node;
    }

    public Node Choose(Node condition, Node then, Node otherwise)
    {
        if (condition.IsConstant)
        {
            return condition.Value != 0 ? then : otherwise;
        }

        if (condition.Op == Op.Not)
        {
            return Choose(condition.Args[0], otherwise, then);
        }

        then = Within(then, condition, 1);
        otherwise = Within(otherwise, condition, 0);
        if (then == otherwise)
        {
            return then;
        }

        if (then.Is(1) && otherwise.Is(0))
        {
            return condition;
        }

        if (then.Is(0) && otherwise.Is(1))
        {
            return Not(condition);
        }

        if (condition.Op == Op.AtMost && condition.Args[0] == then && condition.Args[1] == otherwise)
        {
            return Least([then, otherwise]);
        }

        if (condition.Op == Op.AtMost && condition.Args[0] == otherwise && condition.Args[1] == then)
        {
            return Most([then, otherwise]);
        }

        var node = Make(Op.Choose, [condition, then, otherwise], 0, Node.NoNumbers);
        node.Low = Math.Min(then.Low, otherwise.Low);
        node.High = Math.Max(then.High, otherwise.High);
        return node;
    }

    /// <summary>A choice inside a choice by the same condition is made already.</summary>
    private static Node Within(Node branch, Node condition, int truth) =>
        branch.Op == Op.Choose && branch.Args[0] == condition ? branch.Args[truth == 1 ? 1 : 2] : branch;

    /// <param name="cases">From, to and value of each; they cover the subject's limits.</param>
    public Node Pick(Node subject, long[] cases)
    {
        var kept = new List<long>();
        for (var i = 0; i < cases.Length; i += 3)
        {
            var (from, to) = (Math.Max(cases[i], subject.Low), Math.Min(cases[i + 1], subject.High));
            if (from > to)
            {
                continue;
            }

            if (kept.Count > 0 && kept[^1] == cases[i + 2] && kept[^2] == from - 1)
            {
                kept[^2] = to;
            }
            else
            {
                kept.AddRange([from, to, cases[i + 2]]);
            }
        }

        if (kept.Count == 3)
        {
            return Constant(kept[2]);
        }

        if (subject.Op is Op.Least or Op.Most && Direction(kept) is var direction and not 0)
        {
            var inner = subject.Args.Select(a => Pick(a, Widened(kept, a)));
            return (subject.Op == Op.Least) == (direction > 0) ? Least(inner) : Most(inner);
        }

        if (subject.Op == Op.Choose && (subject.Args[1].IsConstant || subject.Args[2].IsConstant))
        {
            return Choose(
                subject.Args[0],
                Pick(subject.Args[1], [.. kept]),
                Pick(subject.Args[2], [.. kept])
            );
        }

        var node = Make(Op.Pick, [subject], 0, [.. kept]);
        (node.Low, node.High) = (long.MaxValue, long.MinValue);
        for (var i = 2; i < kept.Count; i += 3)
        {
            node.Low = Math.Min(node.Low, kept[i]);
            node.High = Math.Max(node.High, kept[i]);
        }

        return node;
    }

    /// <summary>1 where larger subjects never pick less, -1 where they never pick more, 0 otherwise.</summary>
    internal static int Direction(IReadOnlyList<long> cases)
    {
        var (rises, falls) = (false, false);
        for (var i = 5; i < cases.Count; i += 3)
        {
            rises |= cases[i] > cases[i - 3];
            falls |= cases[i] < cases[i - 3];
        }

        return rises && falls ? 0
            : falls ? -1
            : 1;
    }

    /// <summary>Beyond both ends of what the whole can be, a part takes the nearest case: it never decides there.</summary>
    private static long[] Widened(List<long> cases, Node part)
    {
        long[] wide = [.. cases];
        wide[0] = Math.Min(wide[0], part.Low);
        wide[^2] = Math.Max(wide[^2], part.High);
        return wide;
    }
}
