using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Tests;

/// <summary>Plain pairs that are tried are pairs indeed, and one of them shows what is too large to work out.</summary>
public sealed class TriedPairsTests
{
    private static readonly Part Four = new(new AgeRange(new Age(48), new Age(48)), 0, false);

    [Theory]
    [InlineData(false, false)]
    [InlineData(false, true)]
    [InlineData(true, false)]
    [InlineData(true, true)]
    public void What_is_tried_is_among_all_pairs(bool isRefused, bool untried)
    {
        var kind = isRefused ? PairKind.Refused : PairKind.Better;
        var part = Four with { Untried = untried };
        var questions = new Questions(PairedProtocol.Compiled, Reach.Limit);
        var pairs = new Pairs(questions, kind);
        var tried = new TriedPairs(questions, part, pairs.Space(part));
        var found = 0;
        foreach (var line in questions.Program.Bands.Select(b => b.Line))
        {
            var all = pairs.Ask(part, Reach.Limit, line);
            var values = Enumerable.Range(0, 7).Select(v => (long)v).ToList();
            foreach (var (a, b) in values.SelectMany(a => values.Select(b => (a, b))))
            {
                if (tried.Show(kind, [line], Asked.Are(a, b)) is not null)
                {
                    found++;
                    Assert.True(all.Any(r => all.Value(r, 0) == a && all.Value(r, 1) == b));
                }
            }
        }

        Assert.InRange(found, 10, int.MaxValue);
    }

    [Fact]
    public void Beyond_the_limit_a_plain_pair_shows_that_a_better_sitting_gets_a_worse_band()
    {
        var protocol = PairedProtocol.Compiled;
        var pairs = new Pairs(new Questions(protocol, Reach.Limit), PairKind.Better);
        var line = protocol.Program.Bands.Single(b => b.Table.Outcome.Name == "less").Line;
        var asked = BandPairs.Forbidden(3, isSofter: false);
        var pair = new PairSearch(pairs, null).Find(Four, 1, [line], asked);
        Assert.NotNull(pair);
        Assert.False(pair.IsSmallest);
        Assert.True(pair.SecondLines[line] < pair.FirstLines[line]);
        Assert.True(pairs.Space(Four).Holds(pair.First, pair.Second));
        Assert.False(pairs.Space(Four).Holds(pair.Second, pair.First));
    }
}
