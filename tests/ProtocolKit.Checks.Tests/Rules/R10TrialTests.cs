using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Model;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Checks.Tests;

/// <summary>R10, R11: means, medians and sums of trials and of lists, against sorting and dividing by hand.</summary>
public sealed class R10TrialTests
{
    private static readonly int[] Three = [0, 1, 2];

    private static string Trials(string line) =>
        $"task a\n  trials {line}\n  rate three\nscore t \"T\" = 1 * a\n";

    [Fact]
    public void R11_O17_the_median_of_four_without_a_step_does_not_compile()
    {
        var compiled = Compiled.Fragment(Trials("4, keep median"));
        var found = Assert.Single(compiled.Of("PK4006"));
        Assert.Contains("half-way", found.Message.Text, StringComparison.Ordinal);
        Assert.Null(compiled.Compilation.Protocol);
    }

    [Fact]
    public void R11_O17_with_a_step_the_set_is_that_of_brute_force()
    {
        var compiled = Compiled.Fragment(Trials("4, keep median of rate, step 1"));
        var expected = new SortedSet<Rational>();
        foreach (var trials in Sheets(4, Three))
        {
            var median = MedianRoundedUp(trials);
            Assert.Equal(median, compiled.Value("t", compiled.Run(Record(compiled, trials))));
            expected.Add(median);
        }

        Assert.Equal([0, 1, 2], expected);
    }

    [Theory]
    [InlineData("3, keep median", true)]
    [InlineData("3, keep median of those given", false)]
    [InlineData("3, keep mean of rate", false)]
    [InlineData("3, keep mean of rate, step 0.1", true)]
    [InlineData("4, keep sum of rate", true)]
    public void R11_a_step_is_needed_only_where_a_value_can_fall_between(string trials, bool compiles)
    {
        var compiled = Compiled.Fragment(Trials(trials));
        Assert.Equal(!compiles, compiled.Of("PK4006").Any());
        Assert.Equal(compiles, compiled.Compilation.Protocol is not null);
    }

    [Fact]
    public void R10_a_mean_needs_all_trials_and_else_ranges_over_the_bounds_of_the_answer()
    {
        var compiled = Compiled.Fragment(Trials("3, keep mean of rate, step 0.1"));
        Assert.Equal(new Rational(13, 10), compiled.Value("t", compiled.Run(Record(compiled, [2, 1, 1]))));
        var record = Record(compiled, [2, 2, 2]);
        compiled.Set(record, "a.rate.trial-2", 0, State.Spoiled);
        var lines = compiled.Run(record);
        Assert.Equal((long)State.Spoiled, lines[compiled.Program.Kept[0].StateLine]);
        Assert.Equal(((Rational)0, (Rational)2), compiled.Ends("t", lines));
    }

    [Fact]
    public void R10_of_those_given_asks_for_one_trial_at_least()
    {
        var compiled = Compiled.Fragment(Trials("3, keep mean of rate of those given, step 0.1"));
        var record = Record(compiled, [2, 1, 0]);
        compiled.Set(record, "a.rate.trial-3", 0, State.Refused);
        Assert.Equal(new Rational(3, 2), compiled.Value("t", compiled.Run(record)));
        compiled.Set(record, "a.rate.trial-1", 0, State.Refused);
        Assert.Equal(1, compiled.Value("t", compiled.Run(record)));
        compiled.Set(record, "a.rate.trial-2", 0, State.NotPossible);
        Assert.Equal((long)State.NotPossible, compiled.Run(record)[compiled.Program.Kept[0].StateLine]);
    }

    [Fact]
    public void R10_a_sum_of_trials_has_the_range_of_all_of_them()
    {
        var compiled = Compiled.Fragment(Trials("4, keep sum of rate"));
        Assert.Equal([0, 1, 2, 3, 4, 5, 6, 7, 8], compiled.Set("t"));
        var record = Record(compiled, [2, 2, 2, 2]);
        compiled.Set(record, "a.rate.trial-4", 0, State.Refused);
        Assert.Equal(((Rational)0, (Rational)8), compiled.Ends("t", compiled.Run(record)));
    }

    [Fact]
    public void R10_first_and_last_are_trial_one_and_n_whatever_they_are()
    {
        foreach (var (keep, expected) in new[] { ("first", 2), ("last", 0) })
        {
            var compiled = Compiled.Fragment(Trials($"3, keep {keep}"));
            Assert.Equal(expected, compiled.Value("t", compiled.Run(Record(compiled, [2, 1, 0]))));
            var record = Record(compiled, [2, 1, 0]);
            compiled.Set(record, keep == "first" ? "a.rate.trial-1" : "a.rate.trial-3", 0, State.Refused);
            Assert.Equal((long)State.Refused, compiled.Run(record)[compiled.Program.Kept[0].StateLine]);
        }
    }

    [Theory]
    [InlineData("up to 2, second when rate below 2, keep mean of rate, step 1")]
    [InlineData("3, keep mean of speed, step 1")]
    [InlineData("3, keep first, step 1")]
    public void R10_combinations_that_mean_nothing_do_not_compile(string trials) =>
        Assert.Null(Compiled.Fragment(Trials(trials)).Compilation.Protocol);

    [Fact]
    public void R10_the_other_answers_of_a_task_without_a_kept_trial_do_not_compile()
    {
        var compiled = Compiled.Fragment(
            "task a\n  trials 3, keep mean of rate, step 1\n  rate three\n  yes-no moved\nscore t \"T\" = 1 * a.rate\n"
        );
        Assert.Contains("moved", Assert.Single(compiled.Of("PK4013")).Message.Text, StringComparison.Ordinal);
    }

    [Property(MaxTest = 60)]
    public Property R11_the_median_of_a_list_is_the_middle_of_what_is_sorted() =>
        Prop.ForAll(
            Gen.Choose(0, 9).ArrayOf().Where(a => a.Length is > 0 and < 10).ToArbitrary(),
            numbers =>
            {
                var names = numbers.Select((_, i) => $"a{i}").ToList();
                var compiled = Compiled.Fragment(
                    string.Concat(names.Select(n => $"task {n}\n  count steps 0 to 9\n"))
                        + $"measure m step 0.5 = median of ({string.Join(", ", names)})\n"
                );
                var record = compiled.Lowest();
                for (var i = 0; i < numbers.Length; i++)
                {
                    compiled.Set(record, $"a{i}.steps", numbers[i]);
                }

                int[] sorted = [.. numbers.Order()];
                var twice = sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2];
                return compiled.Value("m", compiled.Run(record)) == new Rational(twice, 2);
            }
        );

    [Fact]
    public void R1_a_median_passes_over_what_is_not_applicable_and_both_ends_are_medians()
    {
        var compiled = Compiled.Text(
            FragmentPrelude.WithShortForm
                + "task a item(three) short form\ntask b item(three) short form\ntask c item(three)\nscore t \"T\" step 0.5 = median of (a, b, c)\n"
        );
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 2);
        compiled.Set(record, "b.rate", 1);
        compiled.Set(record, "c.rate", 0);
        Assert.Equal(1, compiled.Value("t", compiled.Run(record)));
        compiled.Set(record, "a.rate", 0, State.Refused);
        Assert.Equal(((Rational)0, (Rational)1), compiled.Ends("t", compiled.Run(record)));
        compiled.Set(record, "a.rate", 2);
        record[compiled.Program.FormField] = 1;
        compiled.Set(record, "c.rate", 0, State.NotApplicable);
        Assert.Equal(new Rational(3, 2), compiled.Value("t", compiled.Run(record)));
    }

    [Fact]
    public void R11_a_median_that_may_be_of_an_even_number_needs_a_step()
    {
        const string tasks = "task a item(three)\ntask b item(three)\ntask c item(three)\n";
        Assert.Single(Compiled.Fragment(tasks + "score t \"T\"\n  median of (a, b)\n").Of("PK4006"));
        Assert.Empty(Compiled.Fragment(tasks + "score t \"T\"\n  median of (a, b, c)\n").Of("PK4006"));
    }

    private static Rational MedianRoundedUp(int[] trials)
    {
        int[] sorted = [.. trials.Order()];
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2] + 1) / 2;
    }

    private static IEnumerable<int[]> Sheets(int trials, int[] answers) =>
        trials == 0
            ?
            [
                [],
            ]
            : Sheets(trials - 1, answers).SelectMany(s => answers.Select(a => (int[])[.. s, a]));

    private static long[] Record(Compiled compiled, int[] trials)
    {
        var record = compiled.Lowest();
        for (var i = 0; i < trials.Length; i++)
        {
            compiled.Set(record, $"a.rate.trial-{i + 1}", trials[i]);
        }

        return record;
    }
}
