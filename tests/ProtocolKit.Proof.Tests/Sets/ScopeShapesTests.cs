using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Tests.Sets;

/// <summary>Parts of one kind have one name; what must hold, what is handed on and what it is for change it.</summary>
public sealed class ScopeShapesTests
{
    private static readonly Graph Graph = new();
    private static readonly RecordSpace Space = new(
        SkippedProtocol.Compiled,
        Graph,
        new AgeRange(new Age(48), new Age(48)),
        0,
        untried: false
    );

    [Fact]
    public void A_condition_is_no_value()
    {
        var (first, second) = (Scope(1, 1), Scope(2, 1));
        Assert.Equal(Name(first), Name(second));
        Assert.NotEqual(Name(first), Name(second, second.Outputs[0]));
        Assert.NotEqual(Name(first), Name(Scope(2, 0)));
    }

    [Fact]
    public void What_more_can_only_help_is_not_what_it_can_only_hinder()
    {
        var (first, second) = (Scope(1, 1), Scope(2, 1));
        var known = new KnownParts();
        var (helps, hinders) = (
            new Polarity([first.Outputs[0]]),
            new Polarity([Graph.Not(second.Outputs[0])])
        );
        Assert.NotEqual(
            new ScopeShapes(Space, new HashSet<Node>(), known, polarity: helps).Of(first),
            new ScopeShapes(Space, new HashSet<Node>(), known, polarity: hinders).Of(second)
        );
    }

    private static readonly KnownParts Known = new();

    private static string Name(Scope scope, params Node[] conditions) =>
        new ScopeShapes(Space, conditions.ToHashSet(), Known).Of(scope);

    /// <summary>An answer and whether it is at most so much.</summary>
    private static Scope Scope(int part, long most)
    {
        var field = Space.Fields[Space.Leaves[part].ValueField];
        var scope = new Scope(part, []);
        var value = Graph.AtMost(field, Graph.Constant(most));
        var inner = value.Op == Op.Not ? value.Args[0] : value;
        scope.Values.Add((inner, 0));
        scope.Outputs.Add(inner);
        return scope;
    }
}
