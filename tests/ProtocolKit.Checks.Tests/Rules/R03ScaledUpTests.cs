using ProtocolKit.Model;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Checks.Tests;

/// <summary>
/// R3, R4: untried parts made up for by points. The right-hand sides are core.md's formula worked out here on the fragments' own
/// numbers, without the compiler or the evaluator.
/// </summary>
public sealed class R03ScaledUpTests
{
    private const int Untried = -1;

    /// <summary>Fragment O2: four tasks worth 0 or 2, at most one untried.</summary>
    private const string FourEven = """
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
        """;

    [Fact]
    public void R3_O2_complete_and_one_untried_give_the_sets_of_brute_force()
    {
        var compiled = Compiled.Fragment(FourEven);
        var complete = new SortedSet<Rational>();
        var one = new SortedSet<Rational>();
        foreach (var answers in Sheets(4, [Untried, 0, 2]))
        {
            var untried = answers.Count(a => a == Untried);
            if (untried <= 1)
            {
                var expected = ByPoints(answers, [(0, 2), (0, 2), (0, 2), (0, 2)])!.Value;
                Assert.Equal(expected, compiled.Value("t", compiled.Run(Record(compiled, answers, 2))));
                (untried == 0 ? complete : one).Add(expected);
            }
        }

        Assert.Equal([0, 2, 4, 6, 8], complete);
        Assert.Equal([0, 3, 5, 8], one);
    }

    [Fact]
    public void R3_O2_the_gap_at_3_is_reached_by_the_smallest_record()
    {
        var compiled = Compiled.Fragment(FourEven);
        var lines = compiled.Run(Record(compiled, [2, 0, 0, Untried], 2));
        Assert.Equal(3, compiled.Value("t", lines));
        Assert.Equal("no band", compiled.Band("t", lines));
    }

    [Theory]
    [InlineData("0 -1 0 1", 1)] // 1 of 3 points is 1.33 of 4
    [InlineData("1 -1 0 1", 3)] // 2 of 3 is 2.67
    [InlineData("-1 1 1 1", 4)]
    public void R3_O5_one_of_four_is_made_up_for(string answers, int expected)
    {
        var compiled = Compiled.Fragment(
            """
            section s "S"
              task a item(yes-no)
              task b item(yes-no)
              task c item(yes-no)
              task d item(yes-no)
            score t "T"
              add up rate of every task in s
              untried scaled up, at most 1
            """
        );
        int[] numbers = [.. answers.Split(' ').Select(int.Parse)];
        Assert.Equal(expected, compiled.Value("t", compiled.Run(Record(compiled, numbers, 1))));
    }

    [Fact]
    public void R3_scaling_goes_by_points_and_not_by_the_number_of_tasks()
    {
        var compiled = Compiled.Fragment(
            """
            task a item(odd)
            task b item(yes-no)
            task c item(yes-no)
            score t "T"
              add up (a, b, c)
              untried scaled up, at most 2
            """
        );
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 1);
        compiled.Set(record, "b.rate", 0, State.Refused);
        compiled.Set(record, "c.rate", 0, State.OutOfTime);

        // 2 of 5 points: 2 · 7 / 5 = 2.8. By the number of tasks it would be 2 · 3 / 1 = 6.
        Assert.Equal(3, compiled.Value("t", compiled.Run(record)));
    }

    [Fact]
    public void R3_more_untried_than_stated_or_nothing_answered_blocks_with_the_gravest_reason()
    {
        var compiled = Compiled.Fragment(
            """
            task a item(three)
            task b item(three)
            task c item(three)
            score t "T"
              add up (a, b, c)
              untried scaled up, at most 1
            """
        );
        var state = compiled.Program.Outcomes.Single().StateLine;
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 0, State.OutOfTime);
        Assert.Equal(0, compiled.Run(record)[state]);
        compiled.Set(record, "b.rate", 0, State.NotPossible);
        Assert.Equal((long)State.NotPossible, compiled.Run(record)[state]);
        compiled.Set(record, "c.rate", 0, State.Refused);
        Assert.Equal((long)State.NotPossible, compiled.Run(record)[state]);
    }

    [Theory]
    [InlineData(2, true)]
    [InlineData(3, false)]
    [InlineData(4, false)]
    public void R3_as_many_untried_as_there_are_tasks_does_not_compile(int atMost, bool compiles)
    {
        var compiled = Compiled.Fragment(
            $"task a item(three)\ntask b item(three)\ntask c item(three)\nscore t \"T\"\n  add up (a, b, c)\n  untried scaled up, at most {atMost}\n"
        );
        Assert.Equal(!compiles, compiled.Of("PK4045").Any());
        Assert.Equal(compiles, compiled.Compilation.Protocol is not null);
    }

    [Fact]
    public void R3_scales_that_do_not_begin_at_zero_scale_what_lies_above_their_least()
    {
        var compiled = Compiled.Fragment(
            """
            scale five, higher is better
              5 "a"
              4 "b"
              3 "c"
              2 "d"
              1 "e"
            task a item(five)
            task b item(five)
            task c item(three)
            score t "T"
              add up (a, b, c)
              untried scaled up, at most 2
            """
        );
        foreach (var answers in Sheets(3, [Untried, 0, 1, 2]))
        {
            if (answers.All(a => a == Untried))
            {
                continue;
            }

            // Levels 0, 1, 2 of the five are 1, 2, 3 points.
            int[] points = [.. answers.Select((a, i) => a == Untried || i == 2 ? a : a + 1)];
            var expected = ByPoints(points, [(1, 5), (1, 5), (0, 2)])!.Value;
            Assert.Equal(expected, compiled.Value("t", compiled.Run(Record(compiled, answers, 1))));
        }
    }

    [Fact]
    public void R5_a_score_of_scores_makes_up_for_its_parts_and_not_for_the_tasks_beneath()
    {
        var compiled = Compiled.Fragment(
            """
            task a item(three)
            task b item(three)
            task c item(three)
            score pair "Pair" = a + b
            score single "Single" = 1 * c
            score t "T"
              add up (pair, single)
              untried scaled up, at most 1
            """
        );
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 0, State.Refused);
        compiled.Set(record, "b.rate", 0, State.Refused);
        compiled.Set(record, "c.rate", 1);

        // Two answers are untried, but one part: 1 of 2 points of the other is 3 of 6.
        Assert.Equal(3, compiled.Value("t", compiled.Run(record)));
        compiled.Set(record, "c.rate", 1, State.Spoiled);
        Assert.Equal((long)State.Spoiled, compiled.Run(record)[compiled.Program.Outcomes[^1].StateLine]);
    }

    [Fact]
    public void R7_what_is_not_in_the_form_shrinks_the_range_that_is_scaled_to()
    {
        var compiled = Compiled.Text(
            FragmentPrelude.WithShortForm
                + """
                task a item(three) short form
                task b item(three) short form
                task c item(three)
                score t "T"
                  add up (a, b, c)
                  untried scaled up, at most 1
                """
        );
        var record = compiled.Lowest();
        record[compiled.Program.FormField] = 1;
        compiled.Set(record, "a.rate", 1);
        compiled.Set(record, "b.rate", 0, State.Refused);
        compiled.Set(record, "c.rate", 0, State.NotApplicable);

        // 1 of 2 points is 2 of the 4 that a and b can come to; 3 of 6 would count c.
        Assert.Equal(2, compiled.Value("t", compiled.Run(record)));
    }

    /// <summary>core.md R3 by hand: null where nothing was answered.</summary>
    private static Rational? ByPoints(int[] points, (int Low, int High)[] ranges)
    {
        var low = ranges.Sum(r => r.Low);
        var high = ranges.Sum(r => r.High);
        var answered = Enumerable.Range(0, points.Length).Where(i => points[i] != Untried).ToList();
        if (answered.Count == 0)
        {
            return null;
        }

        var sum = answered.Sum(i => points[i]);
        var (lowAnswered, highAnswered) = (
            answered.Sum(i => ranges[i].Low),
            answered.Sum(i => ranges[i].High)
        );

        // floor(x + 1/2) of lo + (sum - lo') (hi - lo) / (hi' - lo'), all of it at least 0.
        var below = highAnswered - lowAnswered;
        var above = (low * below) + ((sum - lowAnswered) * (high - low));
        return ((2 * above) + below) / (2 * below);
    }

    private static IEnumerable<int[]> Sheets(int tasks, int[] answers) =>
        tasks == 0
            ?
            [
                [],
            ]
            : Sheets(tasks - 1, answers).SelectMany(s => answers.Select(a => (int[])[.. s, a]));

    /// <param name="step">Points of one level.</param>
    private static long[] Record(Compiled compiled, int[] answers, int step)
    {
        var record = compiled.Lowest();
        for (var i = 0; i < answers.Length; i++)
        {
            var isUntried = answers[i] == Untried;
            compiled.Set(
                record,
                $"{(char)('a' + i)}.rate",
                isUntried ? 0 : answers[i] / step,
                isUntried ? State.Refused : State.Known
            );
        }

        return record;
    }
}
