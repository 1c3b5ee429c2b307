using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// Which way each value goes where answers get better: read off its formula; where that leaves it open, from all pairs of sheets of
/// the one task or section it rests on.
/// </summary>
/// <param name="isExact">Whether pairs are asked of values that rest on routed tasks: that can take many questions.</param>
internal sealed class BetterWays(Pairs pairs, bool isExact = true)
{
    private const long Limit = 200_000;
    private const int MostPatterns = 64;

    private readonly Dictionary<Part, RoutedDirections> _directions = [];
    private readonly Dictionary<(Node, AgeRange Like, bool IsGiven), Way> _wholes = [];
    private readonly Dictionary<(Part, int), OnePattern> _patterns = [];

    public Way Of(Part part, int line) => DirectionsOf(part).Of(pairs.Space(part).First.Lines.Line(line));

    private RoutedDirections DirectionsOf(Part part)
    {
        if (!_directions.TryGetValue(part, out var directions))
        {
            var space = pairs.Space(part);
            var lines = new Dictionary<Node, int>();
            foreach (var line in Questions.Wholes(pairs.Questions.Program).Concat(pairs.SmallLines))
            {
                lines.TryAdd(space.First.Lines.Line(line), line);
            }

            _directions[part] = directions = new RoutedDirections(
                space,
                (node, own, isGiven) =>
                    lines.TryGetValue(node, out var line) ? Whole(part, node, line, own, isGiven) : null
            );
        }

        return directions;
    }

    private Way Whole(Part part, Node node, int line, Directions directions, bool isGiven)
    {
        var like = AgeParts.FirstLike(pairs.Questions.Protocol, part.Ages);
        if (_wholes.TryGetValue((node, like, isGiven), out var known))
        {
            return known;
        }

        var way = directions.Of(node.Args[0]);
        if (way == Way.Either)
        {
            way = ByPatterns(part, node, line) ?? Exactly(part, line) ?? Way.Either;
        }

        return _wholes[(node, like, isGiven)] = way;
    }

    private Way? Exactly(Part part, int line)
    {
        if (IsHopeless(part, line))
        {
            return null;
        }

        var rises = pairs.May(part, Limit, (s, g) => g.Not(g.AtMost(Second(s), First(s))));
        var falls = pairs.May(part, Limit, (s, g) => g.Not(g.AtMost(First(s), Second(s))));
        return rises is null || falls is null
            ? null
            : (rises == true ? Way.MayRise : Way.Same) | (falls == true ? Way.MayFall : Way.Same);

        Node First(PairSpace space) => space.First.Lines.Line(line);
        Node Second(PairSpace space) => space.Second.Lines.Line(line);
    }

    /// <summary>A count and a time of one trial have too many pairs to look at.</summary>
    private bool IsHopeless(Part part, int line)
    {
        var space = pairs.Space(part).First;
        var leaves =
            space.SetOf(space.Lines.Line(line))?.Leaves().Select(l => space.Leaves[l]).ToList() ?? [];
        return (!isExact && leaves.Exists(l => l.IsRouted))
            || leaves
                .GroupBy(l => (l.Task, l.Trial))
                .Any(t => t.Aggregate(1L, (n, l) => n * Ways(l)) > Limit);
    }

    private long Ways(Leaf leaf)
    {
        var width = Math.Min(1 << 20, leaf.High - leaf.Low + 1);
        return pairs.Kind == PairKind.Refused ? width * 8
            : leaf.Order == 0 && !leaf.MayBeBlank ? width
            : width * width / 2;
    }

    /// <summary>
    /// With each of its trials given or untried, the formula of a task's kept trial is a plain one, such as the largest of three rates.
    /// </summary>
    private Way? ByPatterns(Part part, Node node, int line)
    {
        if (pairs.Kind == PairKind.Refused)
        {
            return null;
        }

        var space = pairs.Space(part).First;
        var set = space.SetOf(node);
        var leaves = set?.Leaves().Select(l => space.Leaves[l]).ToList() ?? [];
        var states = leaves.Where(l => l.StateField >= 0 && part.Untried).ToList();
        if (
            leaves.Exists(l => l.MayBeBlank)
            || leaves.TrueForAll(l => l.Trial <= 1)
            || 1 << states.Count > MostPatterns
        )
        {
            return null;
        }

        var way = Way.Same;
        for (var pattern = 0; pattern < 1 << states.Count && way != Way.Either; pattern++)
        {
            var untried = states.Where((_, i) => (pattern >> i & 1) == 1).Select(l => l.StateField);
            var one = leaves.TrueForAll(l => l.Task == leaves[0].Task)
                ? Pattern(part, pattern)
                : Pattern(part, [.. untried]);
            var root = one.Trials.Separate([one.Space.Lines.Line(line)])[0];
            way |= one.Directions.Of(root);
        }

        return way == Way.Either ? null : way;
    }

    /// <summary>The same pattern in the states of every task: a value that rests on one task sees its own alone.</summary>
    private OnePattern Pattern(Part part, int pattern)
    {
        if (!_patterns.TryGetValue((part, pattern), out var known))
        {
            var untried = pairs
                .Space(part)
                .First.Leaves.Where(l => l.StateField >= 0 && part.Untried)
                .GroupBy(l => l.Task)
                .SelectMany(t => t.Where((_, i) => (pattern >> i & 1) == 1))
                .Select(l => l.StateField);
            _patterns[(part, pattern)] = known = Pattern(part, [.. untried]);
        }

        return known;
    }

    private OnePattern Pattern(Part part, HashSet<int> untried)
    {
        var graph = new Graph();
        var space = new RecordSpace(
            pairs.Questions.Protocol,
            graph,
            part.Ages,
            part.Form,
            untried: false,
            fixedUntried: untried
        );
        return new OnePattern(
            space,
            new KeptTrials(space, graph),
            new Directions(
                f => pairs.Space(part).WayOf(f, isGiven: false),
                (f, value) => pairs.Space(part).WayWhereIs(f, value, isGiven: false),
                _ => null
            )
        );
    }

    private sealed record OnePattern(RecordSpace Space, KeptTrials Trials, Directions Directions);
}
