using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Tests.Sets;

/// <summary>What is said of a value on the way to a goal holds of random formulas, tried with every value of every field.</summary>
public sealed class PolarityTests
{
    private const int Fields = 3;
    private const int Values = 3;

    [Property(MaxTest = 300)]
    public Property More_of_a_value_never_does_what_was_ruled_out(int seed)
    {
        var (graph, random) = (new Graph(), new Random(seed));
        var nodes = Grow(graph, random);
        var goal = graph.AtMost(graph.Constant(random.Next(-2, 4)), nodes[^1]);
        var inner = nodes[random.Next(Fields, nodes.Count)];
        if (goal.IsConstant || inner.IsConstant)
        {
            return true.ToProperty();
        }

        var way = new Polarity([goal]).Of(inner);
        var (rises, falls) = (false, false);
        foreach (var sheet in Sheets())
        {
            long? before = null;
            for (var value = inner.Low; value <= inner.High; value++)
            {
                var now = Evaluate(goal, sheet, inner, value);
                rises |= now > before;
                falls |= now < before;
                before = now;
            }
        }

        return (!rises || way.HasFlag(Way.MayRise))
            .And(!falls || way.HasFlag(Way.MayFall))
            .Label($"{goal} of {inner}: {way}, rises {rises}, falls {falls}");
    }

    [Fact]
    public void A_value_that_is_read_both_ways_may_do_either()
    {
        var graph = new Graph();
        var (a, b) = (graph.Field(0, 0, 5, []), graph.Field(1, 0, 5, []));
        var sum = graph.Keep(graph.Add(a, b));
        var high = graph.AtMost(graph.Constant(3), sum);
        var low = graph.AtMost(sum, graph.Constant(7));
        Assert.Equal(Way.MayRise, new Polarity([high]).Of(sum));
        Assert.Equal(Way.MayFall, new Polarity([low]).Of(sum));
        Assert.Equal(Way.Either, new Polarity([graph.Both([high, low])]).Of(sum));
    }

    private static List<Node> Grow(Graph graph, Random random)
    {
        var nodes = Enumerable.Range(0, Fields).Select(f => graph.Field(f, 0, Values - 1, [])).ToList();
        for (var i = 0; i < 8; i++)
        {
            nodes.Add(Made(graph, random, nodes));
        }

        return nodes;
    }

    private static Node Made(Graph graph, Random random, List<Node> nodes)
    {
        var (a, b, c) = (Any(), Any(), Any());
        return random.Next(11) switch
        {
            0 => graph.Linear(random.Next(-1, 2), [(random.Next(1, 3), a), (random.Next(-2, 0), b)]),
            1 => graph.Add(a, b),
            2 => graph.Least([a, b]),
            3 => graph.Most([a, b]),
            4 => graph.Choose(graph.AtMost(a, b), b, c),
            5 => graph.Multiply(a, b),
            6 => graph.Clamp(a, 0, 2),
            7 => graph.Equal(a, graph.Constant(random.Next(3))),
            8 => graph.Not(graph.AtMost(a, b)),
            9 => graph.Keep(graph.Subtract(a, b)),
            _ => graph.Pick(
                graph.Clamp(a, 0, 2),
                [0, 0, random.Next(3), 1, 1, random.Next(3), 2, 2, random.Next(3)]
            ),
        };

        Node Any() => nodes[random.Next(nodes.Count)];
    }

    private static IEnumerable<long[]> Sheets() =>
        Enumerable
            .Range(0, (int)Math.Pow(Values, Fields))
            .Select(n =>
                Enumerable
                    .Range(0, Fields)
                    .Select(f => (long)(n / (int)Math.Pow(Values, f) % Values))
                    .ToArray()
            );

    /// <summary>A node's value where one of its parts is something else.</summary>
    private static long Evaluate(Node node, long[] sheet, Node fixedPart, long value)
    {
        long Of(int arg) => Evaluate(node.Args[arg], sheet, fixedPart, value);
        if (node == fixedPart)
        {
            return value;
        }

        return node.Op switch
        {
            Op.Constant => node.Value,
            Op.Field => sheet[node.Value],
            Op.Linear => node.Value + node.Args.Select((_, i) => node.Numbers[i] * Of(i)).Sum(),
            Op.Multiply => Of(0) * Of(1),
            Op.Least => node.Args.Select((_, i) => Of(i)).Min(),
            Op.Most => node.Args.Select((_, i) => Of(i)).Max(),
            Op.Choose => Of(0) != 0 ? Of(1) : Of(2),
            Op.Pick => Picked(node.Numbers, Of(0)),
            Op.Equal => Of(0) == Of(1) ? 1 : 0,
            Op.AtMost => Of(0) <= Of(1) ? 1 : 0,
            Op.Both => node.Args.Select((_, i) => Of(i)).Min(),
            Op.Either => node.Args.Select((_, i) => Of(i)).Max(),
            Op.Not => 1 - Of(0),
            Op.Keep => Of(0),
            Op.Clamp => Math.Clamp(Of(0), node.Numbers[0], node.Numbers[1]),
            _ => throw new InvalidOperationException($"{node.Op} is not grown here."),
        };
    }

    private static long Picked(long[] cases, long subject)
    {
        var at = Enumerable
            .Range(0, cases.Length / 3)
            .FirstOrDefault(i => subject <= cases[(3 * i) + 1], (cases.Length / 3) - 1);
        return cases[(3 * at) + 2];
    }
}
