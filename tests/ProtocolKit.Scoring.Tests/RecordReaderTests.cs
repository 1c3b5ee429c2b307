using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

public class RecordReaderTests
{
    [Fact]
    public void A_good_record_fills_its_fields()
    {
        var record = Records.Sitting(Records.Good);
        Assert.Equal("QC-0417", record.Case);
        Assert.Equal(new Rater("SLP-02"), record.Rater);
        Assert.Equal(51, record.Age.Months);
        Assert.Equal([new DateOnly(2026, 3, 4)], record.Seen);
        Assert.False(record.IsShortForm);
        Assert.Empty(record.Remarks);
        Assert.Equal((0, 1L), Field(record, "tip-nose.rate.trial-1"));
        Assert.Equal((0, 2L), Field(record, "tip-nose.rate.trial-2"));
        Assert.Equal((0, 58L), Field(record, "pa-run.run.trial-2"));
        Assert.Equal((0, 0L), Field(record, "first-pair.choice"));
    }

    [Theory]
    [InlineData("\r\n", "")]
    [InlineData("\n", "\uFEFF")]
    public void Line_ends_and_a_byte_order_mark_change_nothing(string lineEnd, string start)
    {
        var plain = Records.Sitting(Records.Good);
        var other = Records.Sitting(start + Records.Good.Replace("\n", lineEnd, StringComparison.Ordinal));
        Assert.Equal(plain.Fields, other.Fields);
    }

    [Fact]
    public void Json_is_read_alike()
    {
        const string Json = """
            {
            	"protocol": "tiny-screen", "edition": "1.0", "case": "QC-0417", "age-months": 51,
            	"parts": [{ "seen": "2026-03-04" }], "form": "full", "rater": "SLP-02",
            	"fingerprints": { "form": "00000000000000aa", "administration": "00000000000000bb", "interpretation": "00000000000000cc" },
            	"answers": {
            		"tip-nose.rate.trial-1": 1, "tip-nose.rate.trial-2": 2, "tip-chin.rate": 2,
            		"tip-corner.rate.right": 2, "tip-corner.rate.left": 1,
            		"pa-run.syllables.trial-1": 20, "pa-run.run.trial-1": 6.0,
            		"pa-run.syllables.trial-2": 22, "pa-run.run.trial-2": 5.8,
            		"pa-run.syllables.trial-3": 21, "pa-run.run.trial-3": 5.9,
            		"first-pair.choice": "as-shown", "nods.nodded": "yes"
            	}
            }
            """;
        Assert.Equal(Records.Sitting(Records.Good).Fields, Records.Sitting(Json).Fields);
    }

    [Theory]
    [InlineData("refused", State.Refused)]
    [InlineData("not-understood", State.NotUnderstood)]
    [InlineData("not-possible", State.NotPossible)]
    [InlineData("stopped", State.Stopped)]
    [InlineData("out-of-time", State.OutOfTime)]
    [InlineData("spoiled", State.Spoiled)]
    [InlineData("not-planned", State.NotPlanned)]
    public void An_untried_answer_has_its_reason_and_no_points(string code, State state)
    {
        var record = Records.Sitting(Records.With("tip-chin.rate: 2", $"tip-chin.rate: {code}"));
        Assert.Equal(((int)state, 0L), Field(record, "tip-chin.rate"));
        var run = Records.Sitting(Records.With("pa-run.run.trial-1: 6.0", $"pa-run.run.trial-1: {code}"));
        Assert.Equal(((int)state, 5L), Field(run, "pa-run.run.trial-1"));
    }

    [Fact]
    public void A_second_trial_that_is_not_needed_may_be_absent_or_blank()
    {
        var absent = Records.Sitting(
            Records.With(
                "  tip-nose.rate.trial-1: 1\n  tip-nose.rate.trial-2: 2\n",
                "  tip-nose.rate.trial-1: 2\n"
            )
        );
        var blank = Records.Sitting(
            Records.With("trial-1: 1\n  tip-nose.rate.trial-2: 2", "trial-1: 2\n  tip-nose.rate.trial-2:")
        );
        Assert.Equal(((int)State.NotApplicable, 0L), Field(absent, "tip-nose.rate.trial-2"));
        Assert.Equal(absent.Fields, blank.Fields);
    }

    [Fact]
    public void A_second_trial_after_an_untried_first_may_be_there_or_not()
    {
        var absent = Records.Sitting(
            Records.With(
                "  tip-nose.rate.trial-1: 1\n  tip-nose.rate.trial-2: 2\n",
                "  tip-nose.rate.trial-1: spoiled\n"
            )
        );
        Assert.Equal(((int)State.NotApplicable, 0L), Field(absent, "tip-nose.rate.trial-2"));
        var there = Records.Sitting(
            Records.With("tip-nose.rate.trial-1: 1", "tip-nose.rate.trial-1: spoiled")
        );
        Assert.Equal((0, 2L), Field(there, "tip-nose.rate.trial-2"));
    }

    [Fact]
    public void A_needed_second_trial_may_not_be_absent()
    {
        var problem = Records.Only(Records.With("  tip-nose.rate.trial-2: 2\n", ""));
        Assert.Equal("tip-nose.rate.trial-2", problem.Key);
        Assert.Contains("missing", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_second_trial_that_was_not_needed_is_kept_out_and_said()
    {
        var record = Records.Sitting(
            Records.With("tip-nose.rate.trial-1: 1\n", "tip-nose.rate.trial-1: 2\n")
        );
        Assert.Equal(((int)State.NotApplicable, 0L), Field(record, "tip-nose.rate.trial-2"));
        Assert.Contains("tip-nose.rate.trial-2", Assert.Single(record.Remarks), StringComparison.Ordinal);
    }

    [Fact]
    public void The_short_form_leaves_its_other_tasks_out()
    {
        var record = Records.Sitting(Short(""));
        Assert.True(record.IsShortForm);
        Assert.Equal(1, record.Fields[1]);
        Assert.Equal(((int)State.NotApplicable, 0L), Field(record, "tip-chin.rate"));
        Assert.Equal(((int)State.NotApplicable, 5L), Field(record, "pa-run.run.trial-3"));
        Assert.Equal(
            record.Fields,
            Records.Sitting(Short("  tip-chin.rate:\n  nods.nodded: not-planned\n")).Fields
        );
    }

    [Fact]
    public void An_answer_outside_the_short_form_is_refused()
    {
        var problem = Records.Only(Short("  tip-chin.rate: 2\n"));
        Assert.Contains("not part of the short form", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_task_of_the_short_form_needs_its_answer() =>
        Assert.Equal(
            "tip-corner.rate.left",
            Records.Only(Short("").Replace("  tip-corner.rate.left: 1\n", "", StringComparison.Ordinal)).Key
        );

    [Fact]
    public void An_implausible_time_is_asked_about_and_taken()
    {
        var record = Records.Sitting(Records.With("pa-run.run.trial-1: 6.0", "pa-run.run.trial-1: 12.5"));
        Assert.Equal(
            "pa-run.run.trial-1 is 12.5 s, outside the plausible 1 to 10 s: please look at it again.",
            Assert.Single(record.Remarks)
        );
        Assert.Equal((0, 125L), Field(record, "pa-run.run.trial-1"));
    }

    [Fact]
    public void What_stands_beside_the_answers_is_read()
    {
        var record = Records.Sitting(
            Records.Good
                + """
                help:
                  tip-nose: shown in the mirror
                observations:
                  tip-nose.overflow: seen
                events:
                  - what: gag
                    task: tip-chin
                    recovered: at once
                consents:
                  exam: yes
                history:
                  worry: "Talks little."
                  braces: no
                notes:
                  tip-corner: "Slower at the left."
                  tip-corner.left: "Jaw helps."
                overrides:
                  - action: full-assessment
                    reason: "Meals take long."
                    role: speech-language pathologist
                corrections:
                  - who: SLP-02
                    when: 2026-03-05
                    why: misread the sheet
                    key: tip-chin.rate
                    old: 2
                    new: 1
                """
        );
        Assert.Equal("shown in the mirror", record.Help["tip-nose"]);
        Assert.Equal(2, record.Fields[Tiny.Protocol.Program.Observations.Single().Field]);
        Assert.Equal("gag", record.Events.Single().What);
        Assert.True(record.Consents["exam"]);
        Assert.Equal("no", record.History["braces"]);
        Assert.Equal("Jaw helps.", record.Notes["tip-corner.left"]);
        Assert.Equal("full-assessment", record.Override!.Action);
        Assert.Equal(new DateOnly(2026, 3, 5), record.Corrections.Single().When);
    }

    [Fact]
    public void An_observation_is_not_looked_for_unless_said()
    {
        var field = Tiny.Protocol.Program.Observations.Single().Field;
        Assert.Equal(0, Records.Sitting(Records.Good).Fields[field]);
        Assert.Equal(
            1,
            Records.Sitting(Records.Good + "observations:\n  tip-nose.overflow: looked\n").Fields[field]
        );
    }

    [Fact]
    public void An_age_outside_the_protocol_is_remarked_and_has_no_band()
    {
        var record = Records.Sitting(Records.With("age-months: 51", "age-months: 30"));
        var scored = Scorer.Score(Tiny.Protocol, record);
        Assert.All(scored.Bands, b => Assert.Equal(BandState.NotApplicable, b.State));
        Assert.Contains("2;6", Assert.Single(scored.Remarks), StringComparison.Ordinal);
    }

    [Fact]
    public void Another_interpretation_is_said_and_scored()
    {
        var record = Records.Sitting(Records.With("interpretation: 00000000000000cc", "interpretation: 11"));
        Assert.Contains(
            "other scores, cut-offs or actions",
            Assert.Single(record.Remarks),
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("form", "00000000000000aa")]
    [InlineData("administration", "00000000000000bb")]
    public void Another_form_or_administration_is_refused_unless_asked_for(string aspect, string mine)
    {
        const string Other = "00000000000000ee";
        var text = Records.With($"{aspect}: {mine}", $"{aspect}: {Other}");
        var refused = Records.Only(text);
        Assert.Contains($"another {aspect}", refused.Message, StringComparison.Ordinal);
        Assert.Contains($"--accept-{aspect} {Other}", refused.Mend, StringComparison.Ordinal);
        var isForm = aspect == "form";
        var reading = Records.Read(text, Accepting(isForm, Other));
        Assert.Contains("as was asked for", Assert.Single(reading.Record!.Remarks), StringComparison.Ordinal);
        Assert.Null(Records.Read(text, Accepting(isForm, "00000000000000ff")).Record);
        Assert.Null(Records.Read(text, Accepting(!isForm, Other)).Record);
    }

    private static RecordOptions Accepting(bool isForm, string print) =>
        isForm
            ? new RecordOptions { AcceptForms = [print] }
            : new RecordOptions { AcceptAdministrations = [print] };

    [Fact]
    public void A_record_keeps_the_fingerprints_it_carries()
    {
        var record = Records.Sitting(Records.With("interpretation: 00000000000000cc", "interpretation: 11"));
        Assert.Equal(new Fingerprints("00000000000000aa", "00000000000000bb", "11"), record.Fingerprints);
        Assert.Contains(
            "interpretation: \"11\"",
            RecordWriter.Write(Tiny.Protocol, record),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Another_edition_of_the_same_form_is_said_and_scored() =>
        Assert.Contains(
            "edition \"0.9\"",
            Assert.Single(Records.Sitting(Records.With("edition: 1.0", "edition: 0.9")).Remarks),
            StringComparison.Ordinal
        );

    [Fact]
    public void Another_edition_without_fingerprints_is_refused_unless_asked_for()
    {
        var text = Records
            .With("edition: 1.0", "edition: 0.9")
            .Replace(
                "fingerprints:\n  form: 00000000000000aa\n  administration: 00000000000000bb\n  interpretation: 00000000000000cc\n",
                "",
                StringComparison.Ordinal
            );
        Assert.Equal("edition", Records.Only(text).Key);
        Assert.NotNull(Records.Read(text, new RecordOptions { AcceptEditions = ["0.9"] }).Record);
    }

    private static string Short(string more) =>
        Records
            .Good[..Records.Good.IndexOf("answers:", StringComparison.Ordinal)]
            .Replace("form: full", "form: short", StringComparison.Ordinal)
        + "answers:\n  tip-nose.rate.trial-1: 2\n  tip-corner.rate.right: 2\n  tip-corner.rate.left: 1\n"
        + more;

    private static (int State, long Value) Field(SittingRecord record, string key)
    {
        var slot = Tiny.Protocol.Program.Answers.Single(s => s.Key == key);
        return ((int)record.Fields[slot.StateField], record.Fields[slot.ValueField]);
    }
}
