namespace ProtocolKit.Proof.Engine;

/// <summary>How far a sum gets: so many different values at most, each its lower limit and a number of units.</summary>
internal sealed record Span(long Width, long Unit);

/// <summary>Values of a scope that later steps only add to, and how far they get.</summary>
internal sealed class RunningSums
{
    private readonly Dictionary<Node, (Node Next, int Step)> _next = [];

    public RunningSums(Scope scope)
    {
        foreach (var (node, step) in scope.Values)
        {
            if (node.Op != Op.Linear)
            {
                continue;
            }

            for (var i = 0; i < node.Args.Length; i++)
            {
                if (node.Numbers[i] == 1)
                {
                    _next.TryAdd(node.Args[i], (node, step));
                }
            }
        }
    }

    /// <summary>After a step: how far the sum gets that a value begins; null where nothing is added to it any more.</summary>
    public Func<Node, Span?> From(int step) =>
        node => _next.TryGetValue(node, out var next) && next.Step > step ? SpanOf(node) : null;

    private Span SpanOf(Node first)
    {
        var (range, unit) = (first.High - first.Low, Divisor(UnitOf(first), first.Low));
        for (var at = first; _next.TryGetValue(at, out var next); at = next.Next)
        {
            range = Math.Max(range, next.Next.High - next.Next.Low);
            unit = Divisor(Divisor(unit, UnitOf(next.Next)), next.Next.Low);
        }

        unit = Math.Max(1, unit);
        return new Span((range / unit) + 1, unit);
    }

    /// <summary>A number that divides every value; 0 where the value is always 0.</summary>
    public static long UnitOf(Node node) => node.Unit ??= FindUnit(node);

    private static long FindUnit(Node node)
    {
        switch (node.Op)
        {
            case Op.Constant:
                return Math.Abs(node.Value);
            case Op.Choose:
                return Divisor(UnitOf(node.Args[1]), UnitOf(node.Args[2]));
            case Op.Linear:
                var unit = Math.Abs(node.Value);
                for (var i = 0; i < node.Args.Length; i++)
                {
                    unit = Divisor(unit, node.Numbers[i] * UnitOf(node.Args[i]));
                }

                return unit;
            default:
                return 1;
        }
    }

    private static long Divisor(long a, long b)
    {
        (a, b) = (Math.Abs(a), Math.Abs(b));
        while (b != 0)
        {
            (a, b) = (b, a % b);
        }

        return a;
    }
}
