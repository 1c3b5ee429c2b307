using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Proof.Tests;

/// <summary>One end of each sheet says the same of pairs of bands as both ends of both, and says it of sums that are too many for that.</summary>
public sealed class BandPairsTests
{
    private static readonly Protocol Small = PairedProtocol.Compiled;

    public static TheoryData<string, bool, bool> Tables()
    {
        var data = new TheoryData<string, bool, bool>();
        foreach (var table in Small.CutOffs)
        {
            data.Add(table.Outcome.Name, false, false);
            data.Add(table.Outcome.Name, false, true);
            data.Add(table.Outcome.Name, true, false);
            data.Add(table.Outcome.Name, true, true);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public void A_table_holds_where_no_pair_of_its_bands_is_forbidden(
        string table,
        bool isRefused,
        bool untried
    )
    {
        var pairs = PairsOf(Small, isRefused);
        var part = new Part(new AgeRange(new Age(48), new Age(48)), 0, untried);
        var band = Small.Program.Bands.Single(b => b.Table.Outcome.Name == table);
        var all = pairs.Ask(part, Reach.Limit, band.Line);
        var isFound = all.Any(r =>
            IsForbidden(isRefused)(all.Value(r, 0), all.Value(r, 1), band.Table.Bands.Count)
        );
        Assert.Equal(!isFound, Bands(pairs, isRefused).Hold(part, band));
    }

    [Fact]
    public void The_small_protocol_has_tables_that_hold_and_others()
    {
        var part = new Part(new AgeRange(new Age(48), new Age(48)), 0, true);
        var holds = new[] { false, true }
            .SelectMany(r => Small.Program.Bands.Select(b => Bands(PairsOf(Small, r), r).Hold(part, b)))
            .ToList();
        Assert.Contains(true, holds);
        Assert.Contains(false, holds);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Signs_of_sixty_tasks_with_stop_rules_stay_in_order(bool isRefused)
    {
        var large = Proving.Compiled(ProvedProtocol.Write(3 * ProvedProtocol.TasksInSection));
        var pairs = PairsOf(large, isRefused);
        var part = new Part(new AgeRange(new Age(48), new Age(48)), 0, true);
        var band = large.Program.Bands.Single(b => b.Table.Outcome.Name == "signs");
        Assert.Throws<ProofLimitException>(() => pairs.Ask(part, 100_000, band.Line));
        Assert.True(Bands(pairs, isRefused).Hold(part, band));
    }

    private static Pairs PairsOf(Protocol protocol, bool isRefused) =>
        new(new Questions(protocol, Reach.Limit), isRefused ? PairKind.Refused : PairKind.Better);

    private static BandPairs Bands(Pairs pairs, bool isRefused) =>
        new(pairs, new PairSearch(pairs, null), isRefused, new BetterWays(pairs), (_, _, _) => false);

    /// <summary>Bands stand from the worst to the best; higher places are no bands.</summary>
    private static Func<long, long, int, bool> IsForbidden(bool isRefused) =>
        (first, second, bands) =>
            first < bands && second < bands && (isRefused ? second > first : second < first);
}
