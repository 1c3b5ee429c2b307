using FsCheck;
using FsCheck.Fluent;
using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests;

/// <summary>Rules R3 (routing), R7, R8 and R9, each against plain loops over the ratings that use neither the compiler nor the evaluator.</summary>
public sealed class RoutingRuleTests
{
    private const string Six = """
        section s "S"
          task a item(three)
          task b item(three)
          task c item(three)
          task d item(three)
          task e item(three)
          task f item(three)
        """;

    private const string Total = """

        score t "T"
          add up rate of every task in s
        cut-offs t
          ages          low     high
          4;0 to 5;11   0 to 5  6 to 12
          basis provisional "x"

        """;

    private static long[] Record(Compiled compiled, IReadOnlyList<int> ratings, int months = 60)
    {
        var record = compiled.Lowest();
        record[compiled.Program.AgeField] = months;
        for (var i = 0; i < ratings.Count; i++)
        {
            var slot = compiled.Program.Answers[i];
            record[slot.ValueField] = Math.Max(0, ratings[i]);
            record[slot.StateField] = (long)(ratings[i] < 0 ? State.Refused : State.Known);
        }

        return record;
    }

    /// <summary>-1 is an untried answer. Gives the total and how many were given.</summary>
    private static (int Low, int High, int Given) Stopped(IReadOnlyList<int> ratings, int inARow)
    {
        var (low, high, run, given) = (0, 0, 0, 0);
        foreach (var rating in ratings)
        {
            if (run == inARow)
            {
                break;
            }

            given++;
            run = rating == 0 ? run + 1 : 0;
            low += Math.Max(0, rating);
            high += rating < 0 ? 2 : rating;
        }

        return (low, high, given);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void R8_R3_a_stop_credits_or_leaves_out_the_rest_and_an_untried_answer_breaks_the_run(
        bool byDifficulty
    )
    {
        var order = byDifficulty ? "\n  order of difficulty" : "";
        var compiled = Compiled.Fragment(Six + order + "\n  stop after 2 tasks in a row rated 0" + Total);
        Prop.ForAll(
                Gen.Choose(-1, 2).ArrayOf(6).ToArbitrary(),
                ratings =>
                {
                    var lines = compiled.Run(Record(compiled, ratings));
                    var (low, high, given) = Stopped(ratings, 2);
                    Assert.Equal(((Rational)low, (Rational)high), compiled.Ends("t", lines));
                    Assert.Equal(given, 6 - compiled.Program.Giving.Count(g => lines[g.GivenLine] == 0));

                    // R7: the row was made for six tasks; what is left out makes it not applicable.
                    var isShort = given < 6 && !byDifficulty;
                    Assert.Equal(isShort, compiled.Band("t", lines) == "not applicable");
                }
            )
            .Check(Config.QuickThrowOnFailure.WithMaxTest(400).WithReplay(7, 11));
    }

    /// <summary>Start at the fourth of six at 5;0, two in a row full to go no further back; stop after two zeros.</summary>
    private static int WithStart(IReadOnlyList<int> ratings, int start)
    {
        // Upwards from the start until the stop.
        var given = new HashSet<int>();
        var run = 0;
        for (var i = start; i < ratings.Count && run < 2; i++)
        {
            given.Add(i);
            run = ratings[i] == 0 ? run + 1 : 0;
        }

        // Back until two in a row are full.
        var floor = start;
        while (floor > 0 && !(IsFull(floor) && IsFull(floor + 1)))
        {
            floor--;
            given.Add(floor);
        }

        return (2 * floor) + given.Where(i => i >= floor).Sum(i => ratings[i]);

        bool IsFull(int i) => i < ratings.Count && given.Contains(i) && ratings[i] == 2;
    }

    [Theory]
    [InlineData(59, 0)]
    [InlineData(60, 3)]
    public void R9_tasks_below_the_start_count_full_once_enough_in_a_row_are_full(int months, int start)
    {
        var compiled = Compiled.Fragment(
            Six
                + """

                  order of difficulty "invented"
                  start at d from 5;0
                  go back until 2 in a row full
                  stop after 2 tasks in a row rated 0
                """
                + Total
        );
        foreach (var record in compiled.Records())
        {
            record[compiled.Program.AgeField] = months;
            var ratings = compiled.Program.Answers.Select(a => (int)record[a.ValueField]).ToList();
            Assert.Equal(WithStart(ratings, start), compiled.Value("t", compiled.Run(record)));
        }
    }

    [Theory]
    [InlineData("left out", 0, 4, false)]
    [InlineData("counts lowest", 0, 4, true)]
    [InlineData("counts full", 2, 6, true)]
    public void R7_a_skip_is_left_out_or_counts_lowest_or_full(string credit, int low, int high, bool hasBand)
    {
        var compiled = Compiled.Fragment(
            $"""
            section s "S"
              task a item(three)
              task b item(three)
              task c item(three)
                skip when a = 0, {credit}
            score t "T"
              add up rate of every task in s
            cut-offs t
              ages          low     high
              4;0 to 5;11   0 to 3  4 to 6
              basis provisional "x"
            """
        );
        foreach (var record in compiled.Records())
        {
            var r = compiled.Program.Answers.Select(a => (int)record[a.ValueField]).ToList();
            var lines = compiled.Run(record);
            var expected = r[0] + r[1] + (r[0] == 0 ? low : r[2]);
            Assert.Equal(expected, compiled.Value("t", lines));
            Assert.InRange(expected, 0, r[0] == 0 ? high : 6);
            Assert.Equal(r[0] == 0 && !hasBand, compiled.Band("t", lines) == "not applicable");
        }

        // Whether a is 0 is open: c is given, and nothing is guessed.
        var open = Record(compiled, [-1, 1, 2]);
        Assert.Equal(((Rational)3, (Rational)5), compiled.Ends("t", compiled.Run(open)));
    }

    [Fact]
    public void R7_a_row_may_say_that_it_holds_with_tasks_left_out()
    {
        var compiled = Compiled.Fragment(
            """
            section s "S"
              task a item(three)
              task b item(three)
                skip when a = 0, left out
            score t "T"
              add up rate of every task in s
            cut-offs t
              ages                                   low     high
              4;0 to 4;11                            0 to 1  2 to 4
              5;0 to 5;11, also with tasks left out  0 to 1  2 to 4
              basis provisional "x"
            """
        );
        Assert.Equal("not applicable", compiled.Band("t", compiled.Run(Record(compiled, [0, 2], 59))));
        Assert.Equal("low", compiled.Band("t", compiled.Run(Record(compiled, [0, 2], 60))));
    }

    [Fact]
    public void A_gate_makes_its_tasks_not_possible_and_never_zero()
    {
        var compiled = Compiled.Fragment(
            """
            task a item(three)
            task b item(three)
            score t "T" = a + b
            case-history
              ask sore "Is the mouth sore?", yes-no
                yes closes b unless agreed
              ask agreed "Does the dentist agree?", yes-no
            """
        );
        var record = Record(compiled, [1, 0]);
        Assert.Equal(1, compiled.Value("t", compiled.Run(record)));
        record[compiled.Program.History[0].Field] = 1;
        var lines = compiled.Run(record);
        Assert.Equal(((Rational)1, (Rational)3), compiled.Ends("t", lines));
        var kept = compiled.Program.Kept.Single(k => k.Task.Name == "b");
        Assert.Equal((long)State.NotPossible, lines[kept.StateLine]);
        record[compiled.Program.History[1].Field] = 1;
        Assert.Equal(1, compiled.Value("t", compiled.Run(record)));
    }
}
