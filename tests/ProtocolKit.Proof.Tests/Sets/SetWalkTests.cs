using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Proof.Tests.Sets;

/// <summary>Walked back through the steps of the sets, every row has two sheets behind it, and scoring comes to the same values.</summary>
public sealed class SetWalkTests
{
    private static readonly Protocol Large = Proving.Compiled(ProvedProtocol.Write(40));

    public static TheoryData<string, bool, bool> Tables()
    {
        var data = new TheoryData<string, bool, bool> { { "part-0-total", true, false } };
        foreach (var table in PairedProtocol.Compiled.CutOffs.Select(t => t.Outcome.Name))
        {
            data.Add(table, false, true);
            data.Add(table, true, false);
            data.Add(table, true, true);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public void Sheets_behind_a_row_score_to_it(string table, bool isRefused, bool untried)
    {
        var protocol = table.StartsWith("part-", StringComparison.Ordinal) ? Large : PairedProtocol.Compiled;
        var kind = isRefused ? PairKind.Refused : PairKind.Better;
        var pairs = new Pairs(new Questions(protocol, Reach.Limit), kind);
        var part = new Part(new AgeRange(new Age(50), new Age(50)), 0, untried);
        var line = protocol.Program.Bands.Single(b => b.Table.Outcome.Name == table).Line;
        var all = pairs.Ask(part, Reach.Limit, line);
        Assert.InRange(all.Count, 4, 1000);
        for (var row = 0; row < all.Count; row++)
        {
            var (first, second) = pairs.Space(part).Sheets(all.SomeChoices(row));
            Assert.Equal(all.Value(row, 0), Scored(first)[line]);
            Assert.Equal(all.Value(row, 1), Scored(second)[line]);
        }

        long[] Scored(long[] fields)
        {
            fields[protocol.Program.AgeField] = 50;
            return Evaluator.Run(protocol.Program, fields);
        }
    }

    /// <summary>A run of refusals keeps the child from being stopped, and the smallest two sheets take more than the limit.</summary>
    [Fact]
    public void Where_the_smallest_pair_takes_too_much_another_one_is_shown()
    {
        var pairs = new Pairs(new Questions(Large, Reach.Limit), PairKind.Refused);
        var part = new Part(new AgeRange(new Age(50), new Age(50)), 0, false);
        var line = Large.Program.Bands.Single(b => b.Table.Outcome.Name == "part-0-total").Line;
        var asked = BandPairs.Forbidden(3, isSofter: true);
        var pair = new PairSearch(pairs, null).Find(part, 1_000, [line], asked);
        Assert.NotNull(pair);
        Assert.False(pair.IsSmallest);
        Assert.True(pair.SecondLines[line] > pair.FirstLines[line]);
        Assert.Single(
            Large.Program.Answers,
            a => pair.First[a.StateField] == 0 && ((State)pair.Second[a.StateField]).IsUntried()
        );
    }
}
