using ProtocolKit.Benchmarks.Batch;
using ProtocolKit.Benchmarks.Batch.Example;
using ProtocolKit.Scoring;
using ProtocolKit.Testing;

namespace ProtocolKit.Workspace.Tests.Batch;

/// <summary>The benchmark sets the compiled rules of the example beside a loop written by hand. The loop has to mean the same.</summary>
public class ExampleLoopTests
{
    [Fact]
    public void The_loop_by_hand_says_what_scoring_says_on_edge_and_random_records()
    {
        var protocol = Library.Quillmere;
        var program = protocol.Program;
        var records = TestRecords().ToList();
        var wanted = WantedLines.Of(program);
        var (expected, found) = (Columns(wanted.Count, records.Count), Columns(wanted.Count, records.Count));
        for (var row = 0; row < records.Count; row++)
        {
            var lines = Evaluator.Run(program, records[row]);
            for (var i = 0; i < wanted.Count; i++)
            {
                expected[i][row] = lines[wanted[i]];
            }
        }

        var fields = Columns(program.Fields.Count, records.Count);
        for (var f = 0; f < fields.Length; f++)
        {
            for (var row = 0; row < records.Count; row++)
            {
                fields[f][row] = records[row][f];
            }
        }

        new ExampleLoop(program, wanted, fields, records.Count, found).Run();

        Assert.Null(WantedLines.Difference(program, wanted, records.Count, expected, found));
        var states = program.Outcomes.Select(o => expected[wanted.ToList().IndexOf(o.StateLine)]);
        Assert.Contains(states, s => s.Any(x => x > 1));
        Assert.Equal([0L, 1, 2, 3, 4], expected[^1].Distinct().Order());
    }

    [Fact]
    public void A_loop_with_one_wrong_value_is_told_apart()
    {
        var program = Library.Quillmere.Program;
        var wanted = WantedLines.Of(program);
        var (first, second) = (Columns(wanted.Count, 3), Columns(wanted.Count, 3));
        second[^1][2] = 1;

        Assert.StartsWith("headline, row 2", WantedLines.Difference(program, wanted, 3, first, second));
    }

    private static IEnumerable<long[]> TestRecords()
    {
        var protocol = Library.Quillmere;
        return Records.AllAtEdges(protocol).Concat(Records.Random(protocol, 20_000, seed: 11));
    }

    private static long[][] Columns(int count, int rows) =>
        [.. Enumerable.Range(0, count).Select(_ => new long[rows])];
}
