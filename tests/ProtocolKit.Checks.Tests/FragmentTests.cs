using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests;

/// <summary>
/// Small protocols that are tricky on purpose, with the exact sets that brute force gives. The right-hand sides are worked out here
/// from the fragments' own numbers, without the compiler or the evaluator. Invented content, no source beyond arithmetic.
/// </summary>
public sealed class FragmentTests
{
    private static readonly int[] Odd = [0, 2, 5];
    private static readonly int[] Three = [0, 1, 2];

    private const string TwoThrees = """
        section s "S"
          task a item(three)
          task b item(three)
        score t "T"
          add up rate of every task in s

        """;

    private const string Run = """
        task run
          count syllables 0 to 40
          time  length in s, step 0.1, {0} to 15
        measure r in syllables/s, step 0.1

        """;

    [Fact]
    public void O1_holes_nobody_reaches_are_no_gap()
    {
        var compiled = Compiled.Fragment(
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
        var expected = new SortedSet<Rational>();
        foreach (var a in Odd)
        {
            foreach (var b in Odd)
            {
                foreach (var c in Odd)
                {
                    expected.Add(a + b + c);
                }
            }
        }

        Assert.Equal([(Rational)0, 2, 4, 5, 6, 7, 9, 10, 12, 15], expected);
        Assert.Equal(expected, compiled.Set("t"));
        var bands = compiled.Records().Select(r => compiled.Band("t", compiled.Run(r))).ToHashSet();
        Assert.Equal(["expected", "refer", "watch"], bands.Order());
        Assert.DoesNotContain(
            compiled.Compilation.Diagnostics,
            d => d.Severity == Language.Diagnostics.Severity.Error
        );
    }

    [Fact]
    public void O3_a_later_score_reads_the_rounded_value()
    {
        var compiled = Compiled.Fragment(
            """
            section s "S"
              task a item(three)
              task b item(three)
            score m "M" step 1
              mean of rate of every task in s
            score d "D"
              = 2 * m
            """
        );
        var expected = new SortedSet<Rational>();
        foreach (var a in Three)
        {
            foreach (var b in Three)
            {
                expected.Add(2 * ((a + b + 1) / 2));
            }
        }

        Assert.Equal([(Rational)0, 2, 4], expected);
        Assert.Equal(expected, compiled.Set("d"));
    }

    [Fact]
    public void O7_ages_without_a_row_and_a_row_outside_are_errors()
    {
        var compiled = Compiled.Fragment(
            TwoThrees
                + """
                cut-offs t
                  ages          any
                  4;0 to 4;11   0 to 4
                  5;0 to 5;11   0 to 4
                  7;0 to 7;11   0 to 4
                  basis provisional "x"
                """,
            ages: "4;0 to 6;11"
        );
        var gap = Assert.Single(compiled.Of("PK4008")).Message.Text;
        Assert.Contains("6;0 to 6;11", gap, StringComparison.Ordinal);
        Assert.Contains("12 months: 72 to 83", gap, StringComparison.Ordinal);
        Assert.Contains(
            "7;0 to 7;11",
            Assert.Single(compiled.Of("PK4009")).Message.Text,
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("2020-02-29", "2026-02-28", 71)]
    [InlineData("2020-02-29", "2026-03-01", 72)]
    [InlineData("2020-03-15", "2026-03-14", 71)]
    [InlineData("2020-03-15", "2026-03-15", 72)]
    public void O8_birthdays_R14(string born, string seen, int months)
    {
        var culture = System.Globalization.CultureInfo.InvariantCulture;
        Assert.Equal(
            months,
            Age.Between(DateOnly.Parse(born, culture), DateOnly.Parse(seen, culture))!.Value.Months
        );
    }

    [Fact]
    public void O9_actions_apply_side_by_side_and_the_first_is_the_headline()
    {
        var compiled = Compiled.Fragment(
            TwoThrees
                + """
                actions
                  a "A" when t <= 3
                  b "B" when t <= 2
                  c "C" when no other action applies
                """
        );
        foreach (var record in compiled.Records())
        {
            var lines = compiled.Run(record);
            var t = compiled.Value("t", lines);
            string[] expected =
                t <= 2 ? ["a", "b"]
                : t == 3 ? ["a"]
                : ["c"];
            Assert.Equal(expected, compiled.Actions(lines));
            Assert.Equal(t <= 3 ? 0 : 2, lines[compiled.Program.HeadlineLine]);
        }

        // One answer 2 and the other untried: t lies between 2 and 4, and every action is undecided.
        var open = compiled.Lowest();
        compiled.Set(open, "a.rate", 2);
        compiled.Set(open, "b.rate", 0, State.Refused);
        var result = compiled.Run(open);
        Assert.Equal(((Rational)2, (Rational)4), compiled.Ends("t", result));
        Assert.Empty(compiled.Actions(result));
        Assert.All(compiled.Program.Actions, a => Assert.Equal(0, result[a.AppliesNotLine]));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void O10_an_untried_answer_blocks_only_where_the_score_says_so(bool blocks)
    {
        var compiled = Compiled.Fragment(
            (blocks ? TwoThrees + "  untried blocks\n" : TwoThrees)
                + """
                actions
                  ask  "Ask again" when t is blocked
                  done "Done"      when no other action applies
                """
        );
        Assert.All(compiled.Records(), r => Assert.Equal(["done"], compiled.Actions(compiled.Run(r))));
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 2);
        compiled.Set(record, "b.rate", 0, State.Refused);
        Assert.Equal(blocks ? ["ask"] : ["done"], compiled.Actions(compiled.Run(record)));
    }

    [Fact]
    public void O12_a_guard_on_another_value_does_not_exclude_zero()
    {
        const string line = "  = if run.{1} > 0 then run.syllables / run.length otherwise 0\n";
        string Text(string guard) =>
            Run.Replace("{0}", "0", StringComparison.Ordinal)
            + line.Replace("{1}", guard, StringComparison.Ordinal);
        var wrong = Assert.Single(Compiled.Fragment(Text("syllables")).Of("PK4005"));
        Assert.Contains("run.length", wrong.Message.Text + wrong.Message.Fix, StringComparison.Ordinal);
        var right = Compiled.Fragment(Text("length"));
        Assert.Empty(right.Of("PK4005"));
        var expected = Rates(from: 1);
        expected.Add(0);
        Assert.Equal(expected, right.Set("r"));
    }

    [Fact]
    public void O13_the_set_of_a_rate_is_exact_and_holed()
    {
        var text = Run.Replace("{0}", "0.5", StringComparison.Ordinal) + "  = run.syllables / run.length\n";
        var expected = Rates(from: 5);
        Assert.Equal(351, expected.Count);
        Assert.Equal(new Rational(99, 10), FirstHole(expected));
        Assert.Equal([(Rational)70, 72, 74, 76, 78, 80], expected.TakeLast(6));
        var compiled = Compiled.Fragment(
            text
                + """
                cut-offs r
                  ages          slow      quick
                  4;0 to 5;11   0 to 9.8  10 to 80
                  basis provisional "x"
                """
        );
        Assert.Equal(expected, compiled.Set("r"));
        Assert.All(compiled.Records(), r => Assert.NotEqual("no band", compiled.Band("r", compiled.Run(r))));
    }

    [Fact]
    public void R11_a_mean_can_be_a_fraction_and_needs_a_step() =>
        Assert.NotEmpty(
            Compiled.Fragment(TwoThrees.Replace("add up", "mean of", StringComparison.Ordinal)).Of("PK4006")
        );

    [Fact]
    public void O19_a_hyphen_inside_a_name_never_subtracts()
    {
        const string task = "task jaw item(three) each side left, right\nmeasure d = ";
        var joined = Assert.Single(Compiled.Fragment(task + "jaw.left-jaw.right\n").Of("PK3004"));
        Assert.Contains("left-jaw", joined.Message.Text, StringComparison.Ordinal);
        Assert.Equal("Write jaw.left - jaw.right.", joined.Message.Fix);
        Assert.NotEmpty(Compiled.Fragment(task + "jaw.left -jaw.right\n").Of("PK2008"));
        var expected = new SortedSet<Rational>();
        foreach (var left in Three)
        {
            foreach (var right in Three)
            {
                expected.Add(left - right);
            }
        }

        Assert.Equal([(Rational)(-2), -1, 0, 1, 2], expected);
        Assert.Equal(expected, Compiled.Fragment(task + "jaw.left - jaw.right\n").Set("d"));
    }

    /// <summary>Syllables over tenths of a second, rounded half up to tenths, in whole numbers.</summary>
    private static SortedSet<Rational> Rates(int from)
    {
        var rates = new SortedSet<Rational>();
        for (var syllables = 0; syllables <= 40; syllables++)
        {
            for (var tenths = from; tenths <= 150; tenths++)
            {
                rates.Add(new Rational(((2 * 100 * syllables) + tenths) / (2 * tenths), 10));
            }
        }

        return rates;
    }

    private static Rational FirstHole(SortedSet<Rational> rates)
    {
        var at = Rational.Zero;
        while (rates.Contains(at))
        {
            at += new Rational(1, 10);
        }

        return at;
    }
}
