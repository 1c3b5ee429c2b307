using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests;

/// <summary>
/// Stop rules, start points, skips and gates on protocols small enough to try every record. What each record should come to is
/// worked out beside it, by plain loops over the ratings that know neither the compiler nor the evaluator.
/// </summary>
public sealed class RoutingTests
{
    private const string FiveTasks = """
        section s "S"
          task a item(yes-no)
          task b item(yes-no)
          task c item(yes-no)
          task d item(yes-no)
          task e item(yes-no)
          stop after 2 tasks in a row rated 0
        score t "T"
          add up rate of every task in s

        """;

    /// <summary>How many of the answers are given before the section stops.</summary>
    private static int GivenUntilStop(IReadOnlyList<int> ratings, int inARow)
    {
        var run = 0;
        for (var i = 0; i < ratings.Count; i++)
        {
            run = ratings[i] == 0 ? run + 1 : 0;
            if (run == inARow)
            {
                return i + 1;
            }
        }

        return ratings.Count;
    }

    private static List<int> Ratings(Compiled compiled, long[] record) =>
        [.. compiled.Program.Answers.Select(a => (int)record[a.ValueField])];

    /// <summary>The record with the answers of what isn't given taken out.</summary>
    private static string Canonical(Compiled compiled, long[] record, long[] lines) =>
        string.Concat(
            compiled.Program.Answers.Select(a =>
                IsGiven(compiled, a.Task.Name, a.Variant.Name, lines)
                    ? record[a.ValueField].ToString(System.Globalization.CultureInfo.InvariantCulture)
                    : "-"
            )
        );

    private static bool IsGiven(Compiled compiled, string task, string variant, long[] lines) =>
        compiled.Program.Giving.FirstOrDefault(g => g.Task.Name == task && g.Variant.Name == variant)
            is not { } giving
        || lines[giving.GivenLine] == 1;

    private static Giving Why(Compiled compiled, string task, long[] lines) =>
        (Giving)lines[compiled.Program.Giving.First(g => g.Task.Name == task).WhyLine];

    [Fact]
    public void O4_a_stop_leaves_twenty_records_and_late_success_needs_three_points()
    {
        var compiled = Compiled.Fragment(
            FiveTasks
                + """
                claim "late success, one" when e = 1 then t >= 3
                claim "late success, two" when e = 1 then t >= 4
                """
        );
        var totals = new Dictionary<string, int>();
        var fails = new List<string>[] { [], [] };
        foreach (var record in compiled.Records())
        {
            var lines = compiled.Run(record);
            var ratings = Ratings(compiled, record);
            var given = GivenUntilStop(ratings, 2);
            var total = ratings.Take(given).Sum();
            Assert.Equal(total, compiled.Value("t", lines));
            totals[Canonical(compiled, record, lines)] = total;
            for (var claim = 0; claim < 2; claim++)
            {
                var lowered = compiled.Program.Claims[claim];
                if (lines[lowered.PremiseLine] == 1 && lines[lowered.ConclusionFailsLine] == 1)
                {
                    fails[claim].Add(Canonical(compiled, record, lines));
                }
            }
        }

        Assert.Equal(20, totals.Count);
        Assert.Equal(
            [1, 2, 4, 7, 5, 1],
            Enumerable.Range(0, 6).Select(t => totals.Values.Count(v => v == t))
        );
        Assert.Empty(fails[0]);
        Assert.Contains("10101", fails[1]);
        Assert.Equal(["01011", "01101", "10101"], fails[1].Distinct().Order());
    }

    [Fact]
    public void O5_a_missing_answer_breaks_the_run()
    {
        var compiled = Compiled.Fragment(
            """
            section s "S"
              task a item(yes-no)
              task b item(yes-no)
              task c item(yes-no)
              task d item(yes-no)
              stop after 2 tasks in a row rated 0
            score t "T"
              add up rate of every task in s
            """
        );
        var record = compiled.Lowest();
        compiled.Set(record, "b.rate", 0, State.Refused);
        compiled.Set(record, "d.rate", 1);
        var lines = compiled.Run(record);
        Assert.True(IsGiven(compiled, "d", "", lines));
        Assert.Equal(((Rational)1, (Rational)2), compiled.Ends("t", lines));

        // Were b a zero, d would lie after the stop.
        compiled.Set(record, "b.rate", 0);
        lines = compiled.Run(record);
        Assert.False(IsGiven(compiled, "c", "", lines));
        Assert.Equal(0, compiled.Value("t", lines));
    }

    [Fact]
    public void O20_sides_count_for_the_stop_rule()
    {
        var compiled = Compiled.Fragment(
            """
            section s "S"
              task x item(three) each side left, right
              task y item(three)
              stop after 2 tasks in a row rated 0
            score t "T"
              add up rate of every task in s
            claim "one" when y = 2 then t >= 3
            claim "two" when y = 2 then t >= 4
            """
        );
        var totals = new SortedSet<Rational>();
        var fails = new[] { new HashSet<string>(), [] };
        foreach (var record in compiled.Records())
        {
            var lines = compiled.Run(record);
            var ratings = Ratings(compiled, record);
            var total = ratings.Take(GivenUntilStop(ratings, 2)).Sum();
            Assert.Equal(total, compiled.Value("t", lines));
            totals.Add(total);
            for (var claim = 0; claim < 2; claim++)
            {
                var lowered = compiled.Program.Claims[claim];
                if (lines[lowered.PremiseLine] == 1 && lines[lowered.ConclusionFailsLine] == 1)
                {
                    fails[claim].Add(Canonical(compiled, record, lines));
                }
            }
        }

        Assert.Equal([(Rational)0, 1, 2, 3, 4, 5, 6], totals);
        Assert.Empty(fails[0]);
        Assert.Contains("102", fails[1]);
        Assert.Equal(["012", "102"], fails[1].Order());
    }
}
