namespace ProtocolKit.Proof.Engine;

/// <summary>How a value may differ between a sheet and one that is as good or better throughout.</summary>
[Flags]
internal enum Way
{
    Same = 0,
    MayRise = 1,
    MayFall = 2,
    Either = 3,
}

/// <summary>
/// Which way values may go when answers get better, read off the formulas: sums of rising parts rise, a larger divisor makes less, and
/// so on. Never wrong, but where it says either way more exact work may still find one.
/// </summary>
/// <param name="ofField">By the number of a field.</param>
/// <param name="whereIs">What is known of a field being one value; null where only its direction can say.</param>
/// <param name="ofWhole">What is known of a value that is kept whole; null where only its formula can say.</param>
internal sealed class Directions(
    Func<int, Way> ofField,
    Func<int, long, Way?> whereIs,
    Func<Node, Way?> ofWhole
)
{
    private readonly Dictionary<Node, Way> _known = [];

    public Way Of(Node node)
    {
        if (node.IsConstant)
        {
            return Way.Same;
        }

        if (!_known.TryGetValue(node, out var way))
        {
            _known[node] = way = Find(node);
        }

        return way;
    }

    public static Way Turned(Way way) =>
        (way.HasFlag(Way.MayRise) ? Way.MayFall : 0) | (way.HasFlag(Way.MayFall) ? Way.MayRise : 0);

    private Way Find(Node node) =>
        node.Op switch
        {
            Op.Field => ofField((int)node.Value),
            Op.Keep => ofWhole(node) ?? Of(node.Args[0]),
            Op.Linear => node
                .Args.Select((a, i) => node.Numbers[i] > 0 ? Of(a) : Turned(Of(a)))
                .Aggregate((x, y) => x | y),
            Op.Least or Op.Most or Op.Both or Op.Either => node.Args.Select(Of).Aggregate((x, y) => x | y),
            Op.Multiply => Product(node.Args[0], node.Args[1]),
            Op.Choose => Choice(node),
            Op.Divide => Quotient(node.Args[0], node.Args[1]),
            Op.Pick => Graph.Direction(node.Numbers) switch
            {
                1 => Of(node.Args[0]),
                -1 => Turned(Of(node.Args[0])),
                _ => Of(node.Args[0]) == Way.Same ? Way.Same : Way.Either,
            },
            Op.AtMost => Turned(Of(node.Args[0])) | Of(node.Args[1]),
            Op.Equal => Equality(node.Args[0], node.Args[1]),
            Op.Not => Turned(Of(node.Args[0])),
            Op.Clamp => Of(node.Args[0]),
            _ => Way.Either,
        };

    /// <summary>Rounding half up adds half the divisor: (2a + b) / 2b goes the way of a / b.</summary>
    private Way Quotient(Node over, Node under)
    {
        var part = under is { Op: Op.Linear, Args.Length: 1, Value: 0 } ? under.Args[0] : under;
        var at = over.Op == Op.Linear ? Array.IndexOf(over.Args, part) : -1;
        if (at < 0)
        {
            return Of(over) | Turned(Of(under));
        }

        var (low, rest) = (over.Value, Way.Same);
        for (var i = 0; i < over.Args.Length; i++)
        {
            if (i != at)
            {
                var factor = over.Numbers[i];
                low += Math.Min(factor * over.Args[i].Low, factor * over.Args[i].High);
                rest |= factor > 0 ? Of(over.Args[i]) : Turned(Of(over.Args[i]));
            }
        }

        return low >= 0 ? rest | Turned(Of(under)) : Of(over) | Turned(Of(under));
    }

    private Way Product(Node a, Node b)
    {
        var (wayA, wayB) = (Of(a), Of(b));
        if (a.Low >= 0 && b.Low >= 0)
        {
            return wayA | wayB;
        }

        return wayA == Way.Same && wayB == Way.Same ? Way.Same : Way.Either;
    }

    /// <summary>Where the condition itself may change, one branch must lie wholly on one side of the other.</summary>
    private Way Choice(Node node)
    {
        var (condition, then, otherwise) = (Of(node.Args[0]), node.Args[1], node.Args[2]);
        var way = Of(then) | Of(otherwise);
        var turnsOn =
            then.Low >= otherwise.High ? Way.MayRise
            : then.High <= otherwise.Low ? Way.MayFall
            : Way.Either;
        if (condition.HasFlag(Way.MayRise))
        {
            way |= turnsOn;
        }

        return condition.HasFlag(Way.MayFall) ? way | Turned(turnsOn) : way;
    }

    private Way Equality(Node a, Node b)
    {
        if (a.Op == Op.Field && b.IsConstant && whereIs((int)a.Value, b.Value) is { } known)
        {
            return known;
        }

        var way = Of(a) | Of(b);
        if (way == Way.Same || !b.IsConstant)
        {
            return way == Way.Same ? Way.Same : Way.Either;
        }

        return b.Value == a.High ? Of(a)
            : b.Value == a.Low ? Turned(Of(a))
            : Way.Either;
    }
}
