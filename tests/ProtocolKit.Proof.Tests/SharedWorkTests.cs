using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Tests;

/// <summary>What was worked out for one section or one age serves others only where it says the same of them.</summary>
public sealed class SharedWorkTests
{
    private static readonly Protocol Twins = TwinProtocol.Compiled;

    public static TheoryData<bool, bool> KindsAndParts() =>
        new()
        {
            { false, false },
            { false, true },
            { true, false },
            { true, true },
        };

    /// <summary>Asked one after another, so that later sections are read off earlier ones, and each of an engine of its own.</summary>
    [Theory]
    [MemberData(nameof(KindsAndParts))]
    public void Sections_of_one_kind_say_what_each_says_by_itself(bool isRefused, bool untried)
    {
        var shared = PairsOf(isRefused);
        foreach (var ages in AgeParts.Of(Twins))
        {
            var part = new Part(ages, 0, untried);
            foreach (var outcome in Twins.Program.Outcomes)
            {
                int[] lines = [outcome.StateLine, outcome.LowLine, outcome.HighLine];
                Assert.Equal(
                    Rows(PairsOf(isRefused).Ask(part, Reach.Limit, lines), 2 * lines.Length),
                    Rows(shared.Ask(part, Reach.Limit, lines), 2 * lines.Length)
                );
            }
        }
    }

    [Fact]
    public void The_bands_of_an_outcome_are_those_that_all_its_records_show()
    {
        foreach (var protocol in new[] { Twins, PairedProtocol.Compiled, Example() })
        {
            var questions = new Questions(protocol, Reach.Limit);
            var parts = AgeParts
                .Of(protocol)
                .SelectMany(a => new[] { new Part(a, 0, false), new Part(a, 0, true) });
            foreach (var part in parts)
            {
                foreach (
                    var line in protocol.Program.Bands.Where(b => !b.Table.ShortForm).Select(b => b.Line)
                )
                {
                    Assert.Equal(
                        Rows(questions.Ask(part, line), 1),
                        questions.Values.Of(part, line).Select(v => string.Join(' ', v)).Order().ToList()
                    );
                }
            }
        }
    }

    /// <summary>The signs are read off the sheet whether or not a task was given: their formula is one, which tasks are given isn't.</summary>
    [Fact]
    public void Ages_between_which_a_start_point_lies_are_not_alike()
    {
        var (young, old) = (AgeParts.Of(Twins)[0], AgeParts.Of(Twins)[^1]);
        Assert.Equal(new Age(48), young.From);
        Assert.Equal(new Age(72), old.From);
        foreach (var outcome in Twins.Program.Outcomes)
        {
            Assert.Equal(old, AgeParts.FirstLike(Twins, old, outcome.LowLine));
        }

        var paired = PairedProtocol.Compiled;
        var only = Assert.Single(AgeParts.Of(paired));
        Assert.Equal(only, AgeParts.FirstLike(paired, only, paired.Program.Outcomes[0].LowLine));
    }

    /// <summary>One graph serves all ages: what the rows of one age say is not changed by looking at another.</summary>
    [Fact]
    public void The_age_of_one_part_is_not_taken_for_that_of_another()
    {
        var graph = new Graph();
        var ages = AgeParts.Of(Twins);
        var spaces = ages.Select(a => new RecordSpace(Twins, graph, a, 0, untried: false)).ToList();
        var band = Twins.Program.Bands.Single(b => b.Table.Outcome.Name == "signs");
        Assert.Equal(spaces.Count, spaces.Select(s => s.Lines.Line(band.Line)).Distinct().Count());
        Assert.All(
            spaces.Zip(ages),
            s =>
                Assert.Equal(
                    (s.Second.From.Months, s.Second.To.Months),
                    (s.First.Fields[Twins.Program.AgeField].Low, s.First.Fields[Twins.Program.AgeField].High)
                )
        );
    }

    [Theory]
    [MemberData(nameof(KindsAndParts))]
    public void The_smallest_pair_is_that_of_all_pairs(bool isRefused, bool untried)
    {
        var shared = PairsOf(isRefused);
        var part = new Part(AgeParts.Of(Twins)[0], 0, untried);
        var found = 0;
        foreach (var band in Twins.Program.Bands)
        {
            var asked = BandPairs.Forbidden(band.Table.Bands.Count, isRefused);
            var pair = new PairSearch(shared, null).Find(part, Reach.Limit, [band.Line], asked);
            var all = PairsOf(isRefused).Ask(part, Reach.Limit, band.Line);
            var row = all.Smallest(r => asked.Holds(i => all.Value(r, i)));
            Assert.Equal(row >= 0, pair is not null);
            if (pair is not null)
            {
                found++;
                var (first, second) = shared.Space(part).Sheets(all.Choices(row));
                first[Twins.Program.AgeField] = second[Twins.Program.AgeField] = pair.First[
                    Twins.Program.AgeField
                ];
                Assert.True(pair.IsSmallest);
                Assert.Equal(first, pair.First);
                Assert.Equal(second, pair.Second);
            }
        }

        // A refusal lifts a value that is scaled up; better answers alone only where some stay untried.
        Assert.True(isRefused ? found >= 4 : untried || found == 0);
    }

    [Fact]
    public void Where_every_pair_shows_it_two_flawless_sheets_do()
    {
        var pairs = PairsOf(isRefused: true);
        var part = new Part(AgeParts.Of(Twins)[0], 0, false);
        int[] lines = [Twins.Program.Bands[0].Line];
        var search = new PairSearch(pairs, null);
        var pair = search.Find(part, 1, lines, new Asked(_ => true, (g, _) => g.One));
        Assert.NotNull(pair);
        Assert.Equal(pair.First, pair.Second);
        Assert.Equal(pairs.Space(part).First.Baseline, pair.First);
        Assert.Null(search.Find(part, 1, lines, new Asked(_ => false, (g, _) => g.Zero)));
    }

    private static Pairs PairsOf(bool isRefused) =>
        new(new Questions(Twins, Reach.Limit), isRefused ? PairKind.Refused : PairKind.Better);

    private static List<string> Rows(Reach reach, int width) =>
        [
            .. Enumerable
                .Range(0, reach.Count)
                .Select(r => string.Join(' ', Enumerable.Range(0, width).Select(i => reach.Value(r, i))))
                .Order(),
        ];

    private static Protocol Example() => Mutations.Example.Read().Compile().Protocol!;
}
