using ProtocolKit.Model;
using ProtocolKit.Proof.Tests.Oracle;

namespace ProtocolKit.Proof.Tests;

/// <summary>
/// Small protocols that are tricky on purpose. What must come out was worked out by brute force apart from any engine; here the
/// brute force is done again beside it. Invented content.
/// </summary>
public sealed class FragmentTests
{
    private static readonly int[] YesNo = [0, 1];
    private static readonly int[] Even = [0, 2];
    private static readonly int[] Odd = [0, 2, 5];
    private static readonly int[] Three = [0, 1, 2];

    private const string TwoThrees = """
        section s "S"
          task a item(three)
          task b item(three)
        score t "T"
          add up rate of every task in s

        """;

    private static void Same(IEnumerable<int> expected, IEnumerable<Rational> found) =>
        Assert.Equal(expected.Select(e => (Rational)e), found);

    [Fact]
    public void O1_holes_that_are_no_gap()
    {
        var proving = Proving.Fragment(
            """
            section s "S"
              task a item(odd)
              task b item(odd)
              task c item(odd)
            score t "T"
              add up rate of every task in s
            cut-offs t
              ages          refer  watch  expected
              4;0 to 5;11   0 to 2    4 to 7    9 to 15
              basis provisional "x"
            """
        );
        var oracle = new BruteForce(Odd, Odd, Odd);
        Assert.Equal([0, 2, 4, 5, 6, 7, 9, 10, 12, 15], oracle.Set(s => s.Sum()));
        Same(oracle.Set(s => s.Sum()), proving.Set("t"));
        Assert.Empty(proving.Report.Findings);
    }

    [Fact]
    public void O2_a_gap_that_only_a_missing_answer_opens()
    {
        var proving = Proving.Fragment(
            """
            section s "S"
              task a item(even)
              task b item(even)
              task c item(even)
              task d item(even)
            score t "T"
              add up rate of every task in s
              untried scaled up, at most 1
            cut-offs t
              ages          refer  watch  expected
              4;0 to 5;11   0 to 2    4 to 6    7 to 8
              basis provisional "x"
            """
        );
        var oracle = new BruteForce(Even, Even, Even, Even);
        // Points of what was answered, times 8 of 6, half up: (16 p + 6) / 12 rounded down.
        static int? Scaled(int?[] s) => s.Contains(null) ? ((16 * s.Sum()) + 6) / 12 : s.Sum();
        Assert.Equal([0, 2, 4, 6, 8], oracle.Set(Scaled));
        Assert.Equal(
            [0, 3, 5, 8],
            oracle.Sheets(1).Where(s => s.Contains(null)).Select(Scaled).OfType<int>().Distinct().Order()
        );
        Same(oracle.Set(Scaled), proving.Set("t"));
        Same(oracle.Set(Scaled, 1), proving.Set("t", untried: true));
        var gap = Assert.Single(proving.Of(ProofKind.Gap));
        Assert.StartsWith("t can be 3, which is in no band.", gap.Text, StringComparison.Ordinal);
        Assert.Contains("untried", gap.Text, StringComparison.Ordinal);
        Assert.Equal([2, 0, 0, null], oracle.Smallest(s => Scaled(s) == 3, 1));
        Assert.Equal("a.rate=2 b.rate=0 c.rate=0 d.rate=refused", proving.Record(gap.Sittings[0]));
    }

    [Fact]
    public void O3_rounded_then_doubled()
    {
        var proving = Proving.Fragment(
            """
            section s "S"
              task a item(three)
              task b item(three)
              task c item(three)
            score m "M" step 1
              mean of rate of every task in s
            score d "D"
              = 2 * m
            """
        );
        var oracle = new BruteForce(Three, Three, Three);
        Same(oracle.Set(s => 2 * (((2 * s.Sum()) + 3) / 6)), proving.Set("d"));
        Same([0, 2, 4], proving.Set("d"));
    }

    [Fact]
    public void O9_never_first_and_a_record_without_an_action()
    {
        const string actions = """
            actions
              a "A" when t <= 3
              b "B" when t <= 2
              c "C" when no other action applies
            """;
        var proving = Proving.Fragment(TwoThrees + actions);
        Assert.Contains(
            " b ",
            " " + Assert.Single(proving.Of(ProofKind.NeverHeadline)).Text,
            StringComparison.Ordinal
        );
        Assert.Empty(proving.Of(ProofKind.UnreachableAction));
        var none = Assert.Single(proving.Of(ProofKind.NoAction));
        Assert.Contains("untried", none.Text, StringComparison.Ordinal);
        Assert.Contains("finish", none.Fix!, StringComparison.Ordinal);
        Assert.Equal("a.rate=2 b.rate=refused", proving.Record(none.Sittings[0]));

        var finished = Proving.Fragment(
            TwoThrees
                + actions.Replace(
                    "  c \"C\"",
                    "  f \"F\", finish when (a is untried or b is untried)\n  c \"C\"",
                    StringComparison.Ordinal
                )
        );
        Assert.Empty(finished.Of(ProofKind.NoAction));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void O10_never_blocked_unless_the_score_says_so(bool blocks)
    {
        var proving = Proving.Fragment(
            (blocks ? TwoThrees + "  untried blocks\n" : TwoThrees)
                + """
                actions
                  ask  "Ask again" when t is blocked
                  done "Done"      when no other action applies
                """
        );
        Assert.Equal(blocks ? [] : [ProofKind.UnreachableAction], proving.Kinds);
        Assert.Equal(blocks, proving.Report.Sets.Any(s => s.States.Contains(State.Refused)));
    }

    [Fact]
    public void O13_the_set_of_a_rate_is_exact_and_its_holes_are_no_gap()
    {
        var proving = Proving.Fragment(
            """
            task run
              count syllables 0 to 40
              time  length in s, step 0.1, 0.5 to 15
            measure r in syllables/s, step 0.1
              = run.syllables / run.length
            cut-offs r
              ages          slow      quick
              4;0 to 5;11   0 to 9.8  10 to 80
              basis provisional "x"
            """
        );
        var tenths = new SortedSet<int>();
        for (var count = 0; count <= 40; count++)
        {
            for (var length = 5; length <= 150; length++)
            {
                tenths.Add(((200 * count) + length) / (2 * length));
            }
        }

        Assert.Equal(351, tenths.Count);
        Assert.Equal(tenths.Select(t => new Rational(t, 10)), proving.Set("r"));
        Assert.DoesNotContain(ProofKind.Gap, proving.Kinds);
    }

    [Fact]
    public void O17_the_middle_of_four_trials_with_a_step()
    {
        var proving = Proving.Fragment(
            """
            task a
              trials 4, keep median of rate, step 1
              rate three
            score t "T" step 1 = a
            """
        );
        static int Median(int?[] s)
        {
            var sorted = s.Order().ToList();
            return (sorted[1]!.Value + sorted[2]!.Value + 1) / 2;
        }

        Same(new BruteForce(Three, Three, Three, Three).Set(s => Median(s)), proving.Set("t"));
        Same([0, 1, 2], proving.Set("t"));
    }

    [Fact]
    public void O19_a_difference_between_sides()
    {
        var proving = Proving.Fragment(
            "task jaw item(three) each side left, right\nmeasure d = jaw.left - jaw.right\n"
        );
        Same([-2, -1, 0, 1, 2], proving.Set("d"));
    }

    [Fact]
    public void A_false_claim_comes_with_the_smallest_record_and_a_true_one_is_proved()
    {
        var proving = Proving.Fragment(
            TwoThrees
                + """
                claim "true" when a = 2 then t >= 2
                claim "false" when a = 2 then t >= 3
                claim "empty" when t > 4 then a = 2
                """
        );
        var failed = Assert.Single(proving.Of(ProofKind.ClaimFails));
        var oracle = new BruteForce(Three, Three);
        Assert.Equal([2, 0], oracle.Smallest(s => s[0] == 2 && s.Sum() < 3));
        Assert.Equal("a.rate=2 b.rate=0", proving.Record(failed.Sittings[0]));
        Assert.Contains(
            "empty",
            Assert.Single(proving.Of(ProofKind.EmptyPremise)).Text,
            StringComparison.Ordinal
        );
        Assert.Contains(proving.Report.Proved, p => p.Text.Contains("“true”", StringComparison.Ordinal));
    }

    [Fact]
    public void A_claimed_range_is_proved_or_corrected()
    {
        Assert.Empty(Proving.Fragment(TwoThrees + "  claim range 0 to 4\n").Report.Findings);
        var proving = Proving.Fragment(
            TwoThrees.Replace("three", "odd", StringComparison.Ordinal) + "  claim range 0 to 9\n"
        );
        var found = Assert.Single(proving.Of(ProofKind.RangeFails));
        Assert.Equal("a.rate=5 b.rate=5", proving.Record(found.Sittings[0]));
    }

    [Fact]
    public void Records_are_counted()
    {
        var count = Proving.Fragment(TwoThrees).Report.Records!;
        Assert.Equal(9, count.Complete);
        Assert.Equal(100, count.All);
    }
}
