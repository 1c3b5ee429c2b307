using ProtocolKit.Model;
using ProtocolKit.Proof.Tests.Oracle;

namespace ProtocolKit.Proof.Tests;

/// <summary>
/// Better answers and refusals, over all pairs of sheets. The pairs are found again by brute force: every two sheets of a few answers,
/// compared by each test's own arithmetic.
/// </summary>
public sealed class BetterAndRefusedTests
{
    private static readonly int[] YesNo = [0, 1];
    private static readonly int[] Three = [0, 1, 2];

    private const string ThreeSections = """
        section one "One"
          task one-a item(yes-no)
          task one-b item(yes-no)
        section two "Two"
          task two-a item(yes-no)
          task two-b item(yes-no)
        section three "Three"
          task three-a item(yes-no)
          task three-b item(yes-no)
        score one-total "One"
          add up rate of every task in one
        score two-total "Two"
          add up rate of every task in two
        score three-total "Three"
          add up rate of every task in three

        """;

    private static string Tables =>
        string.Concat(
            new[] { "one", "two", "three" }.Select(s =>
                $"cut-offs {s}-total\n  ages  refer  watch  expected\n  4;0 to 5;11  0  1  2\n  basis provisional \"x\"\n"
            )
        );

    private const string Trap = """
        actions
          full  "Full"  when 2 or more bands are refer
          again "Again" when 2 or more bands are watch
          none  "None"  when no other action applies

        """;

    /// <summary>The headline of O11 by hand: 0 full, 1 again, 2 none.</summary>
    private static int Headline(int?[] s, bool orWorse)
    {
        int[] totals = [s[0]!.Value + s[1]!.Value, s[2]!.Value + s[3]!.Value, s[4]!.Value + s[5]!.Value];
        return totals.Count(t => t == 0) >= 2 ? 0
            : totals.Count(t => t == 1 || (orWorse && t == 0)) >= 2 ? 1
            : 2;
    }

    [Fact]
    public void O11_counting_only_the_middle_band_punishes_improvement()
    {
        var proving = Proving.Fragment(ThreeSections + Tables + Trap);
        var found = Assert.Single(proving.Of(ProofKind.WorseAction));
        Assert.Contains("or worse", found.Fix!, StringComparison.Ordinal);
        var oracle = new BruteForce(YesNo, YesNo, YesNo, YesNo, YesNo, YesNo);
        var (first, second) = oracle.SmallestPair((a, b) => Headline(b, false) < Headline(a, false))!.Value;
        Assert.Equal([1, 1, 1, 0, 0, 0], first);
        Assert.Equal([1, 1, 1, 0, 1, 0], second);
        Assert.Equal(Told(first), Answers(proving, found.Sittings[0]));
        Assert.Equal(Told(second), Answers(proving, found.Sittings[1]));

        // R19: one answer untried leaves a band open and nothing to do.
        var none = Assert.Single(proving.Of(ProofKind.NoAction));
        Assert.Contains("finish", none.Fix!, StringComparison.Ordinal);
        Assert.EndsWith("three-b.rate=refused", proving.Record(none.Sittings[0]), StringComparison.Ordinal);
    }

    [Fact]
    public void O11_mended_it_is_proved()
    {
        var mended = Trap.Replace("watch\n", "watch or worse\n", StringComparison.Ordinal)
            .Replace(
                "  again",
                "  complete \"Complete\", finish when any band is undecided\n  again",
                StringComparison.Ordinal
            );
        var proving = Proving.Fragment(ThreeSections + Tables + mended);
        Assert.Null(
            new BruteForce(YesNo, YesNo, YesNo, YesNo, YesNo, YesNo).SmallestPair(
                (a, b) => Headline(b, true) < Headline(a, true)
            )
        );
        Assert.Empty(proving.Report.Findings);
        Assert.Contains(
            proving.Report.Proved,
            p => p.Topic == ProofTopic.Monotony && p.Text.Contains("action", StringComparison.Ordinal)
        );
        Assert.Contains(proving.Report.Proved, p => p.Topic == ProofTopic.Refusal);
    }

    [Fact]
    public void Every_single_step_is_monotone_and_a_pair_is_not()
    {
        // With a = 1 the task b is left out and the row, made for all tasks, doesn't hold: no step from or to it can be judged.
        var proving = Proving.Fragment(
            """
            section s "S"
              task a item(three)
              task b item(three)
                skip when a = 1, left out
            score t "T"
              = if a = 2 then b otherwise 1 + least(b, 1)
            cut-offs t
              ages          refer  expected
              4;0 to 5;11   0      1 to 2
              basis provisional "x"
            """
        );
        // The band by hand: null where there is none, else whether it is the better one.
        static bool? Band(int?[] s) => s[0] == 1 ? null : s[0] == 0 || s[1] > 0;
        static bool Worse(int?[] a, int?[] b) => Band(a) == true && Band(b) == false;
        static bool IsStep(int?[] a, int?[] b) => a.Zip(b).Sum(p => p.Second - p.First) == 1;
        var oracle = new BruteForce(Three, Three);
        Assert.Null(oracle.SmallestPair((a, b) => IsStep(a, b) && Worse(a, b)));
        var (first, second) = oracle.SmallestPair(Worse)!.Value;
        var found = Assert.Single(proving.Of(ProofKind.WorseBand));
        Assert.Equal(Told(first), Answers(proving, found.Sittings[0]));
        Assert.Equal(Told(second), Answers(proving, found.Sittings[1]));
    }

    [Theory]
    [InlineData("= a + b", true)]
    [InlineData("= 2 * a + b", true)]
    [InlineData("= a - b", false)]
    [InlineData("= a * b", true)]
    [InlineData("= if a = 1 then 0 otherwise b", false)]
    [InlineData("= least(a, 2 - b)", false)]
    public void Bands_of_formulas_agree_with_brute_force(string formula, bool isMonotone)
    {
        Func<int, int, int> value = formula switch
        {
            "= a + b" => (a, b) => a + b,
            "= 2 * a + b" => (a, b) => (2 * a) + b,
            "= a - b" => (a, b) => a - b,
            "= a * b" => (a, b) => a * b,
            "= least(a, 2 - b)" => (a, b) => Math.Min(a, 2 - b),
            _ => (a, b) => a == 1 ? 0 : b,
        };
        var proving = Proving.Fragment(
            $"task a item(three)\ntask b item(three)\nscore t \"T\" {formula}\ncut-offs t\n  ages  refer  expected\n  4;0 to 5;11  -2 to 0  1 to 6\n  basis provisional \"x\"\n"
        );
        var pair = new BruteForce(Three, Three).SmallestPair(
            (a, b) => value(a[0]!.Value, a[1]!.Value) > 0 && value(b[0]!.Value, b[1]!.Value) <= 0
        );
        Assert.Equal(isMonotone, pair is null);
        var found = proving.Of(ProofKind.WorseBand).ToList();
        Assert.Equal(isMonotone, found.Count == 0);
        if (pair is { } two)
        {
            Assert.Equal(Told(two.First), Answers(proving, found[0].Sittings[0]));
            Assert.Equal(Told(two.Second), Answers(proving, found[0].Sittings[1]));
        }
    }

    [Fact]
    public void A_score_that_is_scaled_up_softens_where_the_poorest_answer_is_refused()
    {
        var proving = Proving.Fragment(
            """
            section s "S"
              task a item(three)
              task b item(three)
              task c item(three)
            score t "T"
              add up rate of every task in s
              untried scaled up, at most 1
            cut-offs t
              ages          refer   expected
              4;0 to 5;11   0 to 4  5 to 6
              basis provisional "x"
            """
        );
        // 2 + 2 + 0 = 4 refers; without the 0 it is 4 of 4, scaled to 6.
        var found = Assert.Single(proving.Of(ProofKind.SofterRefusal));
        Assert.Equal("a.rate=2 b.rate=2 c.rate=0", proving.Record(found.Sittings[0]));
        Assert.Equal("a.rate=2 b.rate=2 c.rate=refused", proving.Record(found.Sittings[1]));
    }

    [Fact]
    public void A_lost_action_is_found_and_one_marked_finish_may_stand_in_its_place()
    {
        const string rules = """
            section s "S"
              task a item(three)
              task b item(three)
            score t "T"
              add up rate of every task in s
              untried blocks
            actions
              full "Full" when t <= 2
              open "Open"{0} when t is blocked
              none "None" when t > 2

            """;
        var lost = Proving.Fragment(rules.Replace("{0}", "", StringComparison.Ordinal));
        Assert.Single(lost.Of(ProofKind.SofterRefusal));
        var kept = Proving.Fragment(rules.Replace("{0}", ", finish", StringComparison.Ordinal));
        Assert.Empty(kept.Of(ProofKind.SofterRefusal));
    }

    private static string Told(int?[] sheet) => string.Join(' ', sheet);

    private static string Answers(Proving proving, ProofSitting sitting) =>
        string.Join(' ', proving.Record(sitting).Split(' ').Select(a => a.Split('=')[1]));

    /// <summary>
    /// With the first trial untried the second may be given or not. A sheet that has it is no better than one that hasn't: what it shows may
    /// well be worse.
    /// </summary>
    [Fact]
    public void A_further_trial_after_an_untried_one_is_no_better_answer()
    {
        var proving = Proving.Fragment(
            """
            section s "S"
              task first-move
                say "Do it."
                trials up to 2, second when rate below 1, keep highest rate
                rate yes-no
              task later item(yes-no)
                skip when first-move = 0, counts lowest
            score t "T"
              = 1 * later
            cut-offs t
              ages        refer  expected
              4;0 to 5;11  0      1
              basis provisional "x"

            """
        );
        Assert.Empty(proving.Of(ProofKind.WorseBand));
        Assert.Contains(proving.Report.Proved, p => p.Text == "Better answers never give a worse band of t.");
    }
}
