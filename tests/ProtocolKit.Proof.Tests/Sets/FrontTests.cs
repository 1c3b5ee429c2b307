using FsCheck.Xunit;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Tests.Sets;

/// <summary>What is kept of rows is what no other is ahead of, found here by looking at every two of them.</summary>
public sealed class FrontTests
{
    [Property(MaxTest = 200)]
    public void Rows_that_another_is_ahead_of_are_dropped_and_no_others(int seed)
    {
        var random = new Random(seed);
        var graph = new Graph();
        var columns = Enumerable.Range(0, 4).Select(c => graph.Field(c, 0, 4, [])).ToArray();

        // The first column helps, the second hinders, the third may do either; by turns the fourth helps or is like the third.
        var isFourthOrdered = random.Next(2) == 0;
        var any = new[] { columns[2], isFourthOrdered ? columns[2] : columns[3] };
        var polarity = new Polarity([
            graph.AtMost(graph.Constant(2), columns[0]),
            graph.AtMost(columns[1], graph.Constant(2)),
            .. any.Select(c => graph.Equal(c, graph.Constant(2))),
            graph.AtMost(graph.Constant(2), columns[3]),
        ]);
        var rows = new RowTable(columns);
        for (var i = 0; i < 60; i++)
        {
            rows.Find([.. columns.Select(_ => random.NextInt64(5))], [0, 1, 2, 3]);
        }

        var all = Read(rows);
        var expected = all.Where(r => !all.Exists(o => o != r && IsAhead(o, r)));
        Assert.Equal(
            expected.Order(StringComparer.Ordinal),
            Read(Front.Of(rows, polarity, WorkBudget.None)).Order(StringComparer.Ordinal)
        );

        bool IsAhead(string one, string other) =>
            one[0] >= other[0]
            && one[1] <= other[1]
            && one[2] == other[2]
            && (isFourthOrdered ? one[3] >= other[3] : one[3] == other[3]);
    }

    private static List<string> Read(RowTable rows) =>
        [
            .. Enumerable
                .Range(0, rows.Count)
                .Select(r => string.Concat(Enumerable.Range(0, 4).Select(c => rows.Value(r, c)))),
        ];
}
