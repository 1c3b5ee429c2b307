using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// Measures and scores in an order in which each stands after those it reads, so that a long chain of them needs no deep
/// recursion. What depends on itself keeps its place and is reported later.
/// </summary>
internal static class OutcomeOrder
{
    public static IReadOnlyList<OutcomeBlock> Of(IReadOnlyList<OutcomeBlock> outcomes)
    {
        var byName = outcomes.ToDictionary(o => o.Name.Text, StringComparer.Ordinal);
        var ordered = new List<OutcomeBlock>(outcomes.Count);
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var open = new Stack<(OutcomeBlock Block, IEnumerator<string> Reads)>();
        foreach (var outcome in outcomes)
        {
            if (seen.Add(outcome.Name.Text))
            {
                open.Push((outcome, ReadsOf(outcome).GetEnumerator()));
            }

            while (open.TryPeek(out var top))
            {
                if (!top.Reads.MoveNext())
                {
                    ordered.Add(open.Pop().Block);
                }
                else if (byName.TryGetValue(top.Reads.Current, out var next) && seen.Add(next.Name.Text))
                {
                    open.Push((next, ReadsOf(next).GetEnumerator()));
                }
            }
        }

        return ordered;
    }

    /// <summary>True where a statement names what its earlier reading did, so that all keep their order.</summary>
    public static bool IsSame(OutcomeBlock a, OutcomeBlock b) => ReadsOf(a).SequenceEqual(ReadsOf(b));

    public static IEnumerable<string> ReadsOf(OutcomeBlock block) =>
        block
            .Body.OfType<ValueLine>()
            .Select(l => l.Value)
            .Append(block.InlineValue)
            .SelectMany(v => v is null ? [] : NamesIn(v))
            .Concat(block.Lookup is { } table ? [table.Of.Text] : []);

    private static IEnumerable<string> NamesIn(ExpressionNode node) =>
        node switch
        {
            NameNode name => [name.Name],
            BinaryNode binary => NamesIn(binary.Left).Concat(NamesIn(binary.Right)),
            NegateNode negate => NamesIn(negate.Inner),
            CallNode call => NamesIn(call.First).Concat(NamesIn(call.Second)),
            AggregateNode { List: ItemsNode items } => items.Items.SelectMany(NamesIn),
            IfNode choice => NamesIn(choice.If)
                .Concat(NamesIn(choice.Then))
                .Concat(NamesIn(choice.Otherwise)),
            _ => [],
        };

    private static IEnumerable<string> NamesIn(ConditionNode node) =>
        node switch
        {
            CompareNode compare => NamesIn(compare.Left).Concat(NamesIn(compare.Right)),
            IsNode isNode => [isNode.Subject.Text],
            WeakerNode weaker => [weaker.Name.Text],
            AndNode both => NamesIn(both.Left).Concat(NamesIn(both.Right)),
            OrNode either => NamesIn(either.Left).Concat(NamesIn(either.Right)),
            NotNode negation => NamesIn(negation.Inner),
            GroupNode group => NamesIn(group.Inner),
            _ => [],
        };
}
