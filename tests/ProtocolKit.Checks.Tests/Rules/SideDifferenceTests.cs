using ProtocolKit.Model;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Checks.Tests;

/// <summary>
/// Left minus right, and the weaker side: every sheet of two sided tasks and a direction, against what is counted here over every
/// completion of the answers that are missing.
/// </summary>
public sealed class SideDifferenceTests
{
    private const int Untried = -1;

    private const string Tasks = """
        section s "S"
          task x item(three), each side right, left
          task y item(three), each side right, left
          task z
            rate yes-no
            direction, weak side same
        score t "T"
          add up rate of every task in s
        side difference d "Left minus right"
          rate of every sided task in s
          also direction of z
          weaker side needs 2 tasks that agree
        actions
          left      "Left"      when weaker side of d is left
          right     "Right"     when weaker side of d is right
          neither   "Neither"   when weaker side of d is neither
          some-side "Some side" when weaker side of d is left or right
          undecided "Undecided" when weaker side of d is undecided

        """;

    [Fact]
    public void R18_every_sheet_says_of_the_weaker_side_what_all_its_completions_agree_on()
    {
        var compiled = Compiled.Fragment(Tasks);
        foreach (var sheet in Sheets())
        {
            var lines = compiled.Run(Record(compiled, sheet));
            var completed = Completions(sheet).Select(Weaker).ToHashSet(StringComparer.Ordinal);
            foreach (var side in new[] { "left", "right", "neither" })
            {
                var expected =
                    !completed.Contains(side) ? "applies not"
                    : completed.Count == 1 ? "applies"
                    : "undecided";
                Assert.Equal(
                    (string.Join(' ', sheet), side, expected),
                    (string.Join(' ', sheet), side, Decision(compiled, side, lines))
                );
            }

            Assert.Equal(
                completed.Count > 1 ? "applies" : "applies not",
                Decision(compiled, "undecided", lines)
            );
        }
    }

    [Fact]
    public void R1_either_side_untried_leaves_no_difference()
    {
        var compiled = Compiled.Fragment(Tasks);
        var state = compiled.Program.Outcomes.Single(o => o.Outcome.Name == "d").StateLine;
        foreach (var sheet in Sheets())
        {
            var lines = compiled.Run(Record(compiled, sheet));
            if (sheet.Take(4).Contains(Untried))
            {
                Assert.Equal((long)State.Refused, lines[state]);
            }
            else
            {
                // Right and left of x, then of y.
                Assert.Equal(sheet[1] - sheet[0] + sheet[3] - sheet[2], compiled.Value("d", lines));
            }
        }
    }

    [Fact]
    public void Where_less_is_better_the_side_with_more_is_the_weaker_one()
    {
        var compiled = Compiled.Fragment(
            """
            task x, each side right, left
              count slips 0 to 9, lower is better
            side difference d
              slips of x
              weaker side needs 1 task that agrees
            actions
              left  "Left"  when weaker side of d is left
              right "Right" when weaker side of d is right
            """
        );
        var record = compiled.Lowest();
        compiled.Set(record, "x.slips.left", 4);
        compiled.Set(record, "x.slips.right", 1);
        Assert.Equal(["left"], compiled.Actions(compiled.Run(record)));
        Assert.Equal(3, compiled.Value("d", compiled.Run(record)));
    }

    [Fact]
    public void R1_tasks_outside_the_form_do_not_count_and_without_any_nothing_applies()
    {
        var compiled = Compiled.Text(
            FragmentPrelude.WithShortForm
                + """
                task x item(three), each side right, left
                task y item(three), each side right, left
                task k item(three) short form
                score t "T" = 1 * k
                side difference d
                  rate of x, y
                  weaker side needs 2 tasks that agree
                actions
                  neither "Neither" when weaker side of d is neither
                  out     "Out"     when weaker side of d is not applicable
                """
        );
        var record = compiled.Lowest();
        Assert.Equal(["neither"], compiled.Actions(compiled.Run(record)));
        record[compiled.Program.FormField] = 1;
        foreach (var key in new[] { "x.rate.right", "x.rate.left", "y.rate.right", "y.rate.left" })
        {
            compiled.Set(record, key, 0, State.NotApplicable);
        }

        Assert.Equal(["out"], compiled.Actions(compiled.Run(record)));
    }

    [Fact]
    public void After_the_sides_another_condition_may_follow()
    {
        var compiled = Compiled.Fragment(
            Tasks.Replace("is left or right", "is left or right or t = 0", StringComparison.Ordinal)
        );
        Assert.Equal(["neither", "some-side"], compiled.Actions(compiled.Run(compiled.Lowest())));
    }

    [Theory]
    [InlineData("weaker side needs 2 tasks", "weaker side needs 4 tasks", "PK4048")]
    [InlineData("weaker side needs 2 tasks", "weaker side needs 0 tasks", "PK4023")]
    [InlineData("also direction of z", "also direction of x", "PK4048")]
    [InlineData("rate of every sided task in s", "rate of z", "PK4048")]
    [InlineData("when weaker side of d is left", "when weaker side of t is left", "PK4048")]
    public void What_can_never_be_said_does_not_compile(string line, string instead, string code)
    {
        var compiled = Compiled.Fragment(Tasks.Replace(line, instead, StringComparison.Ordinal));
        Assert.Null(compiled.Compilation.Protocol);
        Assert.NotEmpty(compiled.Of(code));
    }

    /// <summary>Of a sheet without anything missing: the side two tasks agree on and more than point the other way.</summary>
    private static string Weaker(int[] sheet)
    {
        var left = 0;
        var right = 0;
        for (var task = 0; task < 2; task++)
        {
            left += sheet[(2 * task) + 1] < sheet[2 * task] ? 1 : 0;
            right += sheet[2 * task] < sheet[(2 * task) + 1] ? 1 : 0;
        }

        // Of the direction 1 is right, 2 left, and the weak side is the same.
        left += sheet[4] == 2 ? 1 : 0;
        right += sheet[4] == 1 ? 1 : 0;
        return left >= 2 && left > right ? "left"
            : right >= 2 && right > left ? "right"
            : "neither";
    }

    private static IEnumerable<int[]> Sheets() =>
        Enumerable
            .Range(0, 4 * 4 * 4 * 4 * 4)
            .Select(n => Enumerable.Range(0, 5).Select(i => ((n >> (2 * i)) & 3) - 1).ToArray());

    private static IEnumerable<int[]> Completions(int[] sheet)
    {
        var hole = Array.IndexOf(sheet, Untried);
        return hole < 0
            ? [sheet]
            : Enumerable
                .Range(0, 3)
                .SelectMany(v =>
                {
                    var filled = (int[])sheet.Clone();
                    filled[hole] = v;
                    return Completions(filled);
                });
    }

    private static long[] Record(Compiled compiled, int[] sheet)
    {
        string[] keys = ["x.rate.right", "x.rate.left", "y.rate.right", "y.rate.left", "z.direction"];
        var record = compiled.Lowest();
        for (var i = 0; i < keys.Length; i++)
        {
            compiled.Set(record, keys[i], Math.Max(0, sheet[i]), sheet[i] < 0 ? State.Refused : State.Known);
        }

        return record;
    }

    private static string Decision(Compiled compiled, string action, long[] lines)
    {
        var found = compiled.Program.Actions.Single(a => a.Action.Name == action);
        return lines[found.AppliesLine] == 1 ? "applies"
            : lines[found.AppliesNotLine] == 1 ? "applies not"
            : "undecided";
    }
}
