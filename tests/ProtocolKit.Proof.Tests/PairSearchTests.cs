using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Proof.Tests;

/// <summary>What is found of questions that are too large to work out.</summary>
public sealed class PairSearchTests
{
    private const long TooLittle = 1;
    private const long LookFurther = 0;
    private const long LookAgain = 1;

    private static readonly Protocol Sixty = Proving.Compiled(
        ProvedProtocol.Write(3 * ProvedProtocol.TasksInSection)
    );

    private static readonly List<Part> Parts =
    [
        .. AgeParts.Of(Sixty).Select(a => new Part(a, 0, false)),
        .. AgeParts.Of(Sixty).Select(a => new Part(a, 0, true)),
    ];

    private readonly Pairs _pairs = new(new Questions(Sixty, Reach.Limit), PairKind.Better);
    private readonly PairSearch _search;

    public PairSearchTests() => _search = new PairSearch(_pairs, null);

    [Fact]
    public void A_pair_that_differs_as_a_known_one_shows_more()
    {
        var part = Parts[AgeParts.Of(Sixty).Count];
        var total = Line("total");
        var known = _search.Find(part, 400_000, [total], Asked.Are(LookAgain, LookFurther));
        Assert.NotNull(known);

        // The same of the total, with parts that all stay above what the known pair has in one of them.
        int[] lines = [total, Line("part-0-total"), Line("part-2-total")];
        var asked = Asked.Are(LookAgain, LookAgain, LookAgain, LookFurther, LookAgain, LookAgain);
        Assert.False(asked.Holds(i => i < 3 ? known.FirstLines[lines[i]] : known.SecondLines[lines[i - 3]]));
        Assert.Throws<ProofLimitException>(() => _search.Find(part, TooLittle, lines, asked));

        var pair = _search.Find(part, TooLittle, lines, asked, [known]);

        Assert.NotNull(pair);
        Assert.False(pair.IsSmallest);
        Assert.Equal([LookAgain, LookAgain, LookAgain], lines.Select(l => pair.FirstLines[l]));
        Assert.Equal([LookFurther, LookAgain, LookAgain], lines.Select(l => pair.SecondLines[l]));
        Assert.True(_pairs.Space(part).Holds(pair.First, pair.Second));
        Assert.Equal(Changes(known), Changes(pair));
    }

    [Fact]
    public void A_part_that_is_too_large_does_not_hide_a_plain_pair_of_the_next()
    {
        // With untried answers alone a better sitting gets the worse band.
        var known = _search.Find(Parts[^1], 400_000, [Line("total")], Asked.Are(LookAgain, LookFurther));
        Assert.NotNull(known);

        var found = _search.FindFirst(
            Parts,
            TooLittle,
            [Line("total")],
            Asked.Are(LookAgain, LookFurther),
            ages => ages == Parts[^1].Ages ? [known] : [],
            NothingKnown
        );

        Assert.Equal(Parts[^1].Ages, found?.Part.Ages);
        Assert.False(found?.Pair.IsSmallest);
    }

    [Fact]
    public void Where_parts_are_too_large_and_nothing_is_found_it_is_not_said_that_there_is_none()
    {
        var asked = Asked.Are(LookAgain, LookFurther);
        Assert.Throws<ProofLimitException>(() =>
            _search.FindFirst(Parts, TooLittle, [Line("total")], asked, _ => [], NothingKnown)
        );
    }

    /// <summary>Its actions rest on every answer, and a better sitting that shows the worse one has few parts to look further at.</summary>
    [Fact]
    public void Of_three_hundred_tasks_nothing_is_left_open()
    {
        var protocol = Proving.Compiled(ProvedProtocol.Write(15 * ProvedProtocol.TasksInSection));
        var report = Prover.Prove(protocol, new ProofOptions(Sets: false));

        Assert.Empty(report.NotProved);
        var worse = Assert.Single(report.Findings, f => f.Kind == ProofKind.WorseAction);

        // Of the worst band there is none worse to count.
        Assert.DoesNotContain("or worse", worse.Fix, StringComparison.Ordinal);
    }

    private static Func<long, long, bool>? NothingKnown(Part part, int line) => null;

    private static int Line(string outcome) =>
        Sixty.Program.Bands.Single(b => b.Table.Outcome.Name == outcome).Line;

    private static List<(int Field, long From, long To)> Changes(PairFound pair) =>
        [
            .. Enumerable
                .Range(0, pair.First.Length)
                .Where(f => pair.First[f] != pair.Second[f])
                .Select(f => (f, pair.First[f], pair.Second[f])),
        ];
}
