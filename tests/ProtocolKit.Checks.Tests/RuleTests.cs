using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Checks.Tests;

/// <summary>What a record means, rule by rule, on records small enough to work out by hand.</summary>
public sealed class RuleTests
{
    [Theory]
    [InlineData(2, 1, 1)] // 1/2 rounds up to 1
    [InlineData(1, 2, 0)] // -1/2 rounds up to 0
    [InlineData(0, 1, 0)] // -1/2 again
    [InlineData(0, 2, -1)] // -1 stays
    public void R4_half_goes_up_also_below_zero(int a, int b, int expected)
    {
        var compiled = Compiled.Fragment(
            "task a item(three)\ntask b item(three)\nmeasure d step 1 = (a - b) / 2\n"
        );
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", a);
        compiled.Set(record, "b.rate", b);
        Assert.Equal(expected, compiled.Value("d", compiled.Run(record)));
    }

    [Fact]
    public void R12_units_convert_where_they_are_declared_and_clash_where_they_differ()
    {
        const string tasks =
            "task run\n  count steps 0 to 9\n  time length in s, step 1, 1 to 60\n  quantity gap in mm, step 1, 0 to 9\n";
        var perMinute = Compiled.Fragment(
            tasks + "measure m in steps/min, step 1 = run.steps / run.length\n"
        );
        var record = perMinute.Lowest();
        perMinute.Set(record, "run.steps", 3);
        perMinute.Set(record, "run.length", 9);
        Assert.Equal(20, perMinute.Value("m", perMinute.Run(record)));
        Assert.Single(Compiled.Fragment(tasks + "measure m = run.length + run.gap\n").Of("PK4004"));
        Assert.Single(
            Compiled.Fragment(tasks + "measure m in taps/s, step 1 = run.steps / run.length\n").Of("PK4004")
        );
    }

    [Theory]
    [InlineData("10 40 20 80 0 10", 1, "4")] // 40/4 s and 80/8 s are equal: the earlier trial stays
    [InlineData("10 40 30 80 0 10", 2, "8")]
    [InlineData("-1 40 30 80 40 80", 3, "8")] // the first was refused, the third is fastest
    public void R10_R24_the_whole_trial_of_the_best_measure_is_kept(string trials, int kept, string length)
    {
        var compiled = Compiled.Fragment(
            """
            task run
              trials 3, keep highest pace
              count  steps 0 to 60
              time   length in s, step 0.1, 1 to 15
            measure pace in steps/s, step 0.1 = run.steps / run.length
            measure seconds in s, step 0.1 = run.length
            """
        );
        var numbers = trials.Split(' ').Select(int.Parse).ToArray();
        var record = compiled.Lowest();
        for (var trial = 1; trial <= 3; trial++)
        {
            var steps = numbers[(2 * trial) - 2];
            compiled.Set(
                record,
                $"run.steps.trial-{trial}",
                Math.Max(0, steps),
                steps < 0 ? State.Refused : State.Known
            );
            compiled.Set(record, $"run.length.trial-{trial}", numbers[(2 * trial) - 1]);
        }

        var lines = compiled.Run(record);
        var line = compiled.Program.Kept.Single(k => k.Response.Name == "length").TrialLine;
        Assert.Equal(kept, lines[line]);
        Assert.True(Rational.TryParse(length, out var expected));
        Assert.Equal(expected, compiled.Value("seconds", lines));
    }

    [Fact]
    public void R10_no_trial_given_keeps_the_gravest_reason_and_the_answer_ranges_over_its_bounds()
    {
        var compiled = Compiled.Fragment(
            "task a\n  trials up to 2, second when rate below 2, keep highest rate\n  rate three\nscore t \"T\" = 1 * a\n"
        );
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate.trial-1", 0, State.Refused);
        compiled.Set(record, "a.rate.trial-2", 0, State.NotPossible);
        var lines = compiled.Run(record);
        Assert.Equal((long)State.NotPossible, lines[compiled.Program.Kept[0].StateLine]);
        Assert.Equal(((Rational)0, (Rational)2), compiled.Ends("t", lines));
        compiled.Set(record, "a.rate.trial-2", 0, State.NotApplicable);
        compiled.Set(record, "a.rate.trial-1", 2);
        Assert.Equal(2, compiled.Value("t", compiled.Run(record)));
    }

    [Theory]
    [InlineData(0, "low")]
    [InlineData(1, "undecided")]
    [InlineData(2, "undecided")]
    public void R6_a_bounded_value_has_a_band_only_where_both_ends_share_it(int b, string band)
    {
        var compiled = Compiled.Fragment(
            """
            task a item(three)
            task b item(three)
            score t "T" = a + b
            cut-offs t
              ages         low     high
              4;0 to 5;11  0 to 2  3 to 4
              basis provisional "x"
            """
        );
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 0, State.OutOfTime);
        compiled.Set(record, "b.rate", b);
        Assert.Equal(band, compiled.Band("t", compiled.Run(record)));
        record[compiled.Program.AgeField] = 72;
        Assert.Equal("not applicable", compiled.Band("t", compiled.Run(record)));
    }

    [Fact]
    public void R18_so_many_or_more_counts_what_is_known_and_what_could_be()
    {
        var table = (string name) =>
            $"score {name}-t \"T\" = 1 * {name}\ncut-offs {name}-t\n  ages         low  high\n  4;0 to 5;11  0    1 to 2\n  basis provisional \"x\"\n";
        var compiled = Compiled.Fragment(
            "task a item(three)\ntask b item(three)\ntask c item(three)\n"
                + table("a")
                + table("b")
                + table("c")
                + "actions\n  two \"Two\" when 2 or more bands are low\n"
        );
        var record = compiled.Lowest();
        (bool Surely, bool SurelyNot) Two()
        {
            var lines = compiled.Run(record);
            return (
                lines[compiled.Program.Actions[0].AppliesLine] == 1,
                lines[compiled.Program.Actions[0].AppliesNotLine] == 1
            );
        }

        compiled.Set(record, "c.rate", 0, State.Refused);
        Assert.Equal((true, false), Two());
        compiled.Set(record, "b.rate", 1);
        Assert.Equal((false, false), Two());
        compiled.Set(record, "a.rate", 1);
        Assert.Equal((false, true), Two());
    }

    [Fact]
    public void R19_no_other_action_waits_for_an_undecided_band()
    {
        var compiled = Compiled.Fragment(
            """
            task a item(three)
            score t "T" = 1 * a
            cut-offs t
              ages         low  high
              4;0 to 5;11  0    1 to 2
              basis provisional "x"
            actions
              refer "Refer" when any band is low
              none  "None"  when no other action applies
            """
        );
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 1);
        Assert.Equal(["none"], compiled.Actions(compiled.Run(record)));
        compiled.Set(record, "a.rate", 0, State.Refused);
        var lines = compiled.Run(record);
        Assert.Empty(compiled.Actions(lines));
        Assert.Equal(-1, lines[compiled.Program.HeadlineLine]);
    }

    [Fact]
    public void R7_a_short_record_sums_its_own_tasks_and_reads_its_own_cut_offs()
    {
        var compiled = Compiled.Text(
            FragmentPrelude.WithShortForm
                + """
                section s "S"
                  task a item(three) short form
                  task b item(three)
                score t "T"
                  add up rate of every task in s
                score only "Only b" = if b = 2 then 1 otherwise 0
                cut-offs t
                  ages         low     high
                  4;0 to 5;11  0 to 2  3 to 4
                  basis provisional "x"
                cut-offs t, short form
                  ages         low  high
                  4;0 to 5;11  0    1 to 2
                  basis provisional "x"
                """
        );
        var record = compiled.Lowest();
        record[compiled.Program.FormField] = 1;
        compiled.Set(record, "a.rate", 1);
        compiled.Set(record, "b.rate", 0, State.NotApplicable);
        var lines = compiled.Run(record);
        Assert.Equal(1, compiled.Value("t", lines));
        Assert.Equal("not applicable", compiled.Band("t", lines));
        var shortBand = compiled.Program.Bands.Single(b => b.Table.ShortForm);
        Assert.Equal("high", shortBand.Table.Bands[(int)lines[shortBand.Line]].Name);

        // What is asked about was never given: there is nothing to choose by.
        Assert.Equal(
            (long)State.NotApplicable,
            lines[compiled.Program.Outcomes.Single(o => o.Outcome.Name == "only").StateLine]
        );
    }

    [Fact]
    public void R16_signs_are_seen_not_seen_or_not_looked_for()
    {
        var compiled = Compiled.Fragment(
            """
            observation drift "drifts"
            task a
              rate three
              tick drift
            score t "T" = if a.drift is seen then 0 otherwise a
            """
        );
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 2);
        var field = compiled.Program.Observations.Single().Field;
        record[field] = 2;
        Assert.Equal(0, compiled.Value("t", compiled.Run(record)));
        record[field] = 1;
        Assert.Equal(2, compiled.Value("t", compiled.Run(record)));
        record[field] = 0;
        Assert.Equal(((Rational)0, (Rational)2), compiled.Ends("t", compiled.Run(record)));
    }

    [Fact]
    public void R16_R23_a_sign_at_a_task_outside_the_short_form_is_told_and_ignored()
    {
        var compiled = Compiled.Text(
            FragmentPrelude.WithShortForm
                + """
                observation drift "drifts"
                task a item(three) short form
                task b
                  rate three
                  tick drift
                score t "T" = a + b
                actions
                  refer "Refer" when b.drift is seen
                  other "Other" when b.drift is not seen
                """
        );
        var record = compiled.Lowest();
        record[compiled.Program.FormField] = 1;
        compiled.Set(record, "b.rate", 0, State.NotApplicable);
        record[compiled.Program.Observations.Single().Field] = 2;
        Assert.Equal([], compiled.Actions(compiled.Run(record)).Where(a => a == "refer"));
        const string Yaml =
            "protocol: tiny\nedition: 1.0\ncase: T-1\nage-months: 60\nform: short\nparts:\n  - seen: 2026-03-04\n"
            + "answers:\n  a.rate: 1\nobservations:\n  b.drift: seen\n";
        var read = RecordReader.Read(Yaml, "record.yaml", compiled.Protocol).Record!;
        Assert.Equal(0, read.Fields[compiled.Program.Observations.Single().Field]);
        Assert.Contains(
            "b.drift is not part of the short form: what was seen there is ignored.",
            read.Remarks
        );
        var whole = Yaml.Replace("form: short", "form: full", StringComparison.Ordinal)
            .Replace("a.rate: 1", "a.rate: 1\n  b.rate: 1", StringComparison.Ordinal);
        read = RecordReader.Read(whole, "record.yaml", compiled.Protocol).Record!;
        Assert.Equal(2, read.Fields[compiled.Program.Observations.Single().Field]);
    }

    [Fact]
    public void R5_untried_blocks_sees_a_bounded_score_but_not_the_tasks_beneath_an_exact_one()
    {
        var compiled = Compiled.Fragment(
            """
            task a item(three)
            task b item(three)
            score lower "Lower" = least(a, b)
            score t "T"
              = 2 * lower
              untried blocks
            """
        );
        var state = compiled.Program.Outcomes.Single(o => o.Outcome.Name == "t").StateLine;
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 0);
        compiled.Set(record, "b.rate", 0, State.Refused);
        Assert.Equal(0, compiled.Run(record)[state]);
        compiled.Set(record, "a.rate", 2);
        Assert.True(compiled.Run(record)[state] >= (long)State.NotPlanned);
    }

    [Theory]
    [InlineData("9007199254740991", true)]
    [InlineData("9007199254740992", false)]
    public void No_value_may_pass_two_to_the_53rd_less_one(string most, bool compiles)
    {
        var compiled = Compiled.Fragment($"task run\n  count steps 0 to {most}\nmeasure m = run.steps\n");
        Assert.Equal(!compiles, compiled.Of("PK4007").Any());
    }
}
