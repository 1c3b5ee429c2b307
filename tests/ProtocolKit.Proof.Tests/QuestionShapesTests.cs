using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Proof.Tests;

/// <summary>Questions of tasks of one kind have one name; whatever changes the answer changes the name.</summary>
public sealed class QuestionShapesTests
{
    private static readonly AgeRange Four = new(new Age(48), new Age(48));

    private const string Text = """
        scale four, higher is better
          3 "full"
          2 "most"
          1 "part"
          0 "none"
        section s "S"
          task a item(three)
          task b item(three)
          task c item(four)
          task d
            count taps 0 to 9, lower is better
          task e item(three)
            skip when a = 0, left out
        """;

    [Fact]
    public void Tasks_of_one_kind_share_a_name_and_others_do_not()
    {
        var protocol = Proving.Compiled(FragmentPrelude.Before(Text));
        var graph = new Graph();
        var space = new PairSpace(protocol, graph, Four, 0, untried: false, PairKind.Better);
        var shapes = new QuestionShapes();
        var names = new[] { "a", "b", "c", "d", "e" }.ToDictionary(t => t, t => Name(t, rises: true));

        Assert.Equal(names["a"], names["b"]);
        Assert.Equal(4, names.Values.Distinct(StringComparer.Ordinal).Count());
        Assert.NotEqual(names["a"], Name("a", rises: false));

        string Name(string task, bool rises)
        {
            var field = protocol.Program.Answers.Single(x => x.Task.Name == task).ValueField;
            var (first, second) = (space.First.Fields[field], space.Second.Fields[field]);
            return shapes.Of(
                space,
                graph.Not(rises ? graph.AtMost(second, first) : graph.AtMost(first, second))
            );
        }
    }
}
