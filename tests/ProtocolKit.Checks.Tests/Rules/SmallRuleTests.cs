using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Checks.Tests;

/// <summary>Rules of meaning that one short protocol each shows, worked out by hand.</summary>
public sealed class SmallRuleTests
{
    /// <summary>From the gravest to the least.</summary>
    private static readonly State[] Reasons =
    [
        State.Stopped,
        State.NotPossible,
        State.Spoiled,
        State.NotUnderstood,
        State.Refused,
        State.OutOfTime,
        State.NotPlanned,
    ];

    [Fact]
    public void R1_of_several_reasons_the_gravest_stands_in_every_order()
    {
        var compiled = Compiled.Fragment(
            "task a item(three)\ntask b item(three)\nscore t \"T\"\n  add up (a, b)\n  untried blocks\nscore u \"U\"\n  = t + a\n"
        );
        foreach (var outcome in compiled.Program.Outcomes)
        {
            for (var i = 0; i < Reasons.Length; i++)
            {
                for (var j = 0; j < Reasons.Length; j++)
                {
                    var record = compiled.Lowest();
                    compiled.Set(record, "a.rate", 0, Reasons[i]);
                    compiled.Set(record, "b.rate", 0, Reasons[j]);
                    Assert.Equal((long)Reasons[Math.Min(i, j)], compiled.Run(record)[outcome.StateLine]);
                }
            }
        }
    }

    [Fact]
    public void R1_blocked_beats_not_applicable_and_that_beats_the_rest()
    {
        var compiled = Compiled.Text(
            FragmentPrelude.WithShortForm
                + "task a item(three) short form\ntask b item(three)\nscore known \"A\" = 1 * a\nscore out \"B\" = 1 * b\nscore blocked \"C\"\n  = 1 * a\n  untried blocks\nscore one \"D\" = known + out\nscore two \"E\" = blocked + out\n"
        );
        var record = compiled.Lowest();
        record[compiled.Program.FormField] = 1;
        compiled.Set(record, "a.rate", 0, State.Refused);
        compiled.Set(record, "b.rate", 0, State.NotApplicable);
        var lines = compiled.Run(record);
        long StateOf(string name) =>
            lines[compiled.Program.Outcomes.Single(o => o.Outcome.Name == name).StateLine];
        Assert.Equal((long)State.NotApplicable, StateOf("one"));
        Assert.Equal((long)State.Refused, StateOf("two"));
    }

    [Fact]
    public void R8_O5_an_untried_answer_breaks_the_run()
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
              untried scaled up, at most 1
            """
        );
        var record = compiled.Lowest();
        compiled.Set(record, "b.rate", 0, State.Refused);
        compiled.Set(record, "d.rate", 1);

        // Not stopped, so d counts: 1 of 3 points is 1.33 of 4. Seen through, d would be ignored and t would be 0.
        Assert.Equal(1, compiled.Value("t", compiled.Run(record)));
    }

    [Fact]
    public void R13_O12_a_guard_on_the_count_does_not_make_the_length_safe()
    {
        const string run = "task run\n  count syllables 0 to 40\n  time length in s, step 0.1, 0 to 15\n";
        var wrong = Compiled.Fragment(
            run
                + "measure r in syllables/s, step 0.1\n  = if run.syllables > 0 then run.syllables / run.length otherwise 0\n"
        );
        Assert.Single(wrong.Of("PK4005"));
        var right = Compiled.Fragment(
            run
                + "measure r in syllables/s, step 0.1\n  = if run.length > 0 s then run.syllables / run.length otherwise 0 syllables/s\n"
        );
        var record = right.Lowest();
        right.Set(record, "run.syllables", 1);
        Assert.Equal(0, right.Value("r", right.Run(record)));
    }

    [Theory]
    [InlineData(2020, 2, 29, 2026, 2, 28, 71)]
    [InlineData(2020, 2, 29, 2026, 3, 1, 72)]
    [InlineData(2020, 3, 15, 2026, 3, 14, 71)]
    [InlineData(2020, 3, 15, 2026, 3, 15, 72)]
    [InlineData(2020, 1, 31, 2020, 2, 29, 0)]
    [InlineData(2020, 1, 31, 2020, 3, 1, 1)]
    public void R14_O8_a_month_completes_on_its_day_or_on_the_first_of_the_next(
        int year,
        int month,
        int day,
        int seenYear,
        int seenMonth,
        int seenDay,
        int months
    ) =>
        Assert.Equal(
            months,
            Age.Between(
                new DateOnly(year, month, day),
                new DateOnly(seenYear, seenMonth, seenDay)
            )!.Value.Months
        );

    [Fact]
    public void R15_names_are_task_response_side_trial_and_a_bare_side_is_asked_for()
    {
        const string task = "task x, each side right, left\n  trials 2, keep first\n  rate three\n";
        var compiled = Compiled.Fragment(task + "score t \"T\" = worst side of x\n");
        Assert.Equal(
            ["x.rate.right.trial-1", "x.rate.right.trial-2", "x.rate.left.trial-1", "x.rate.left.trial-2"],
            compiled.Program.Answers.Select(a => a.Key)
        );
        Assert.NotEmpty(Compiled.Fragment(task + "score t \"T\" = 1 * x\n").Compilation.Diagnostics);
        Assert.Null(Compiled.Fragment(task + "score t \"T\" = 1 * x\n").Compilation.Protocol);
        Assert.NotNull(Compiled.Fragment(task + "score t \"T\" = 1 * x.left\n").Compilation.Protocol);
    }

    [Fact]
    public void R17_a_family_is_filled_in_for_each_word_and_the_task_overrides_its_lines_but_no_kind_of_answer()
    {
        const string family = "family said(cue)\n  say \"{cue} {word}\"\n  rate three\n";
        var compiled = Compiled.Fragment(
            family
                + "task a said(\"Say\"), each word ball, puppy\n  hold 3 s\nscore t \"T\" = a.ball + a.puppy\n"
        );
        Assert.Equal(
            ["Say ball", "Say puppy"],
            compiled.Protocol.Tasks.Single().Variants.Select(v => v.Say.Single())
        );
        Assert.Null(
            Compiled
                .Fragment(family + "task a said(\"Say\"), each word ball\n  yes-no rate\n")
                .Compilation.Protocol
        );
        Assert.Null(
            Compiled
                .Fragment(family + "task a said(\"Say\"), each word ball, ball\nscore t \"T\" = a.ball\n")
                .Compilation.Protocol
        );
    }

    [Fact]
    public void R21_a_claim_fails_only_where_its_premise_surely_holds_and_its_conclusion_surely_does_not()
    {
        var compiled = Compiled.Fragment(
            "task a item(three)\ntask b item(three)\nscore t \"T\" = a + b\nclaim \"c\" when a = 0 then t >= 1\n"
        );
        var claim = compiled.Program.Claims.Single();
        (bool Premise, bool Fails) Of(long[] record)
        {
            var lines = compiled.Run(record);
            return (lines[claim.PremiseLine] == 1, lines[claim.ConclusionFailsLine] == 1);
        }

        var record = compiled.Lowest();
        Assert.Equal((true, true), Of(record));
        compiled.Set(record, "b.rate", 0, State.Refused);
        Assert.Equal((true, false), Of(record));
        compiled.Set(record, "a.rate", 0, State.Refused);
        Assert.Equal((false, false), Of(record));
    }

    [Fact]
    public void R23_illegal_answers_are_all_told_at_once_and_nothing_is_scored()
    {
        var compiled = Compiled.Fragment(
            "task a item(three)\ntask run\n  time length in s, step 0.1, 1 to 15\nscore t \"T\" = 1 * a\nmeasure m = run\n"
        );
        var reading = RecordReader.Read(
            "protocol: tiny\nedition: \"1.0\"\ncase: T-1\nage-months: 50\nparts:\n  - seen: 2026-01-10\nform: full\nanswers:\n  a.rate: 7\n  run.length: 1.05\n  b.rate: 1\n",
            "record.yaml",
            compiled.Protocol
        );
        Assert.Null(reading.Record);
        Assert.Equal(
            ["a.rate", "b.rate", "run.length"],
            reading.Problems.Select(p => p.Key).Distinct().Order()
        );
    }

    [Fact]
    public void R24_levels_with_holes_are_an_index_and_their_points_a_choice_and_ties_keep_the_earlier()
    {
        var compiled = Compiled.Fragment(
            "task a\n  trials 2, keep highest rate\n  rate odd\nscore t \"T\" = 1 * a\n"
        );
        var field = compiled.Program.Fields[compiled.Program.Answers[0].ValueField];
        Assert.Equal((0, 2), (field.Low, field.High));
        Assert.Equal([0, 2, 5], compiled.Set("t"));
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate.trial-1", 1);
        compiled.Set(record, "a.rate.trial-2", 1);
        Assert.Equal(1, compiled.Run(record)[compiled.Program.Kept[0].TrialLine]);
    }
}
