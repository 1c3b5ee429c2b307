using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Tests.Sets;

/// <summary>Asked only whether a condition can hold, with most pairs dropped on the way, the engine says what all pairs say.</summary>
public sealed class GoalTests
{
    public static TheoryData<string, bool, bool> Outcomes()
    {
        var data = new TheoryData<string, bool, bool>();
        foreach (var outcome in SkippedProtocol.Compiled.Program.Outcomes)
        {
            foreach (var isRefused in new[] { false, true })
            {
                data.Add(outcome.Outcome.Name, isRefused, false);
                data.Add(outcome.Outcome.Name, isRefused, true);
            }
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Outcomes))]
    public void A_goal_is_reached_where_some_pair_of_all_reaches_it(string name, bool isRefused, bool untried)
    {
        var protocol = SkippedProtocol.Compiled;
        var kind = isRefused ? PairKind.Refused : PairKind.Better;
        var pairs = new Pairs(new Questions(protocol, Reach.Limit), kind);
        var part = new Part(new AgeRange(new Age(50), new Age(50)), 0, untried);
        var outcome = protocol.Program.Outcomes.Single(o => o.Outcome.Name == name);
        var all = pairs.Ask(part, Reach.Limit, outcome.StateLine, outcome.LowLine, outcome.HighLine);
        var (reached, missed) = (0, 0);
        foreach (var (low, high) in Limits())
        {
            var isReached = all.Any(r =>
                all.Value(r, 0) == 0
                && all.Value(r, 3) == 0
                && all.Value(r, 1) >= high
                && all.Value(r, 5) <= low
            );
            Assert.Equal(isReached, pairs.May(part, Reach.Limit, (s, g) => Goal(s, g, low, high)));
            (reached, missed) = isReached ? (reached + 1, missed) : (reached, missed + 1);
        }

        Assert.True(reached > 0 && missed > 0);

        Node Goal(PairSpace space, Graph graph, long low, long high) =>
            graph.Both([
                graph.Equal(space.First.Lines.Line(outcome.StateLine), graph.Zero),
                graph.Equal(space.Second.Lines.Line(outcome.StateLine), graph.Zero),
                graph.AtMost(graph.Constant(high), space.First.Lines.Line(outcome.LowLine)),
                graph.AtMost(space.Second.Lines.Line(outcome.HighLine), graph.Constant(low)),
            ]);
    }

    private static IEnumerable<(long Low, long High)> Limits() =>
        from low in Enumerable.Range(0, 9)
        from high in Enumerable.Range(0, 9)
        select ((long)low, (long)high);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_section_that_may_be_skipped_is_worked_out_by_itself(bool untried)
    {
        var questions = new Questions(SkippedProtocol.Compiled, Reach.Limit);
        var part = new Part(new AgeRange(new Age(50), new Age(50)), 0, untried);
        Assert.Single(questions.Space(part).WorthGuessing);
        foreach (var outcome in SkippedProtocol.Compiled.Program.Outcomes)
        {
            int[] lines = [outcome.StateLine, outcome.LowLine, outcome.HighLine];
            Assert.Equal(
                ReachRows.OfRecords(questions, part, lines),
                ReachRows.OfSets(questions, part, lines)
            );
        }
    }
}
