namespace ProtocolKit.Scoring.Tests;

/// <summary>Every way a record can be wrong is said with its place, its key and what to do.</summary>
public class RecordProblemTests
{
    [Theory]
    [InlineData("name: Somebody")]
    [InlineData("child: Somebody")]
    [InlineData("surname: Somebody")]
    [InlineData("First_Name: Somebody")]
    [InlineData("patient: Somebody")]
    [InlineData("address: Somebody")]
    [InlineData("phone: Somebody")]
    [InlineData("child's name: Somebody")]
    [InlineData("mothers-phone: Somebody")]
    public void A_key_for_a_name_is_refused(string line)
    {
        var problem = Records.Only(line + "\n" + Records.Good);
        Assert.Equal(NameGuard.Message, problem.Message);
        Assert.Equal((1, 1), (problem.Origin.Line, problem.Origin.Column));
        Assert.DoesNotContain("Somebody", problem.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Seconds_that_are_none_are_told_with_the_way_out()
    {
        var problem = Records.Only(Records.Good + "task-seconds:\n  tip-nose: -3\n");
        Assert.Equal("tip-nose (under task-seconds) is \"-3\".", problem.Message);
        Assert.StartsWith("Write whole seconds from 0 to 3600", problem.Mend, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("  name: Somebody\n  - seen")]
    [InlineData("  - seen: 2026-03-04\n    name: Somebody\n  - seen")]
    public void A_name_is_refused_at_every_level(string part)
    {
        var text = Records.With(
            "  - seen",
            part.StartsWith("  name", StringComparison.Ordinal) ? "  - name: Somebody\n    seen" : part
        );
        Assert.Equal(NameGuard.Message, Records.Only(text).Message);
    }

    [Theory]
    [InlineData("case: QC-0417", "case: Somebody")]
    [InlineData("case: QC-0417", "case: Some Body 7")]
    [InlineData("case: QC-0417", "case: \"Söme1\"")]
    [InlineData("case: QC-0417", "case: QC-01234567890123456789")]
    [InlineData("rater: SLP-02", "rater: Somebody")]
    public void A_case_and_a_rater_are_codes(string old, string changed)
    {
        var problem = Records.Only(Records.With(old, changed));
        Assert.Contains(
            "A record holds no names: use a case code.",
            problem.Message,
            StringComparison.Ordinal
        );
        Assert.DoesNotContain("Some", problem.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(
        "pa-run.run.trial-1: 6.0",
        "pa-run.run.trial-1: 3.45",
        "pa-run.run.trial-1 is 3.45, which lies between two steps of 0.1.",
        "Write 3.4 or 3.5."
    )]
    [InlineData(
        "pa-run.run.trial-1: 6.0",
        "pa-run.run.trial-1: 0.4",
        "pa-run.run.trial-1 is 0.4, outside its bounds.",
        "It can be 0.5 to 15 s, in steps of 0.1."
    )]
    [InlineData(
        "pa-run.run.trial-1: 6.0",
        "pa-run.run.trial-1: 15.1",
        "pa-run.run.trial-1 is 15.1, outside its bounds.",
        "It can be 0.5 to 15 s, in steps of 0.1."
    )]
    [InlineData(
        "pa-run.run.trial-1: 6.0",
        "pa-run.run.trial-1: 6,0",
        "pa-run.run.trial-1 is \"6,0\", which is no number.",
        "Write it with a point: 6."
    )]
    [InlineData(
        "pa-run.run.trial-1: 6.0",
        "pa-run.run.trial-1: 6.1 s",
        "pa-run.run.trial-1 is \"6.1 s\", which is no number.",
        "Write the number alone: 6.1."
    )]
    [InlineData(
        "pa-run.run.trial-1: 6.0",
        "pa-run.run.trial-1: 6.1s",
        "pa-run.run.trial-1 is \"6.1s\", which is no number.",
        "Write the number alone: 6.1."
    )]
    [InlineData(
        "pa-run.syllables.trial-1: 20",
        "pa-run.syllables.trial-1: 20.5",
        "pa-run.syllables.trial-1 is 20.5, which lies between two steps of 1.",
        "Write 20 or 21."
    )]
    [InlineData(
        "pa-run.syllables.trial-1: 20",
        "pa-run.syllables.trial-1: -1",
        "pa-run.syllables.trial-1 is -1, outside its bounds.",
        "It can be 0 to 60 syllables, in steps of 1."
    )]
    [InlineData(
        "tip-chin.rate: 2",
        "tip-chin.rate: 3",
        "tip-chin.rate is 3, which is no level of the scale three.",
        "Write 2, 1 or 0, or why it wasn't tried: refused, not-understood, not-possible, stopped, out-of-time, spoiled, not-planned."
    )]
    [InlineData(
        "tip-chin.rate: 2",
        "tip-chin.rate: 1.5",
        "tip-chin.rate is 1.5, which is no level of the scale three.",
        "Write 2, 1 or 0, or why it wasn't tried: refused, not-understood, not-possible, stopped, out-of-time, spoiled, not-planned."
    )]
    [InlineData(
        "tip-chin.rate: 2",
        "tip-chin.rate: refusd",
        "tip-chin.rate is \"refusd\", which is no number.",
        "Perhaps you mean refused."
    )]
    [InlineData(
        "nods.nodded: yes",
        "nods.nodded: true",
        "nods.nodded is \"true\", which is none of its answers.",
        "Perhaps you mean yes. Write yes or no, or why it wasn't tried: refused, not-understood, not-possible, stopped, out-of-time, spoiled, not-planned."
    )]
    [InlineData(
        "first-pair.choice: as-shown",
        "first-pair.choice: swaped",
        "first-pair.choice is \"swaped\", which is none of its answers.",
        "Perhaps you mean swapped. Write as-shown, swapped or neither, or why it wasn't tried: refused, not-understood, not-possible, stopped, out-of-time, spoiled, not-planned."
    )]
    public void A_wrong_answer_says_what_is_right(string old, string changed, string message, string mend)
    {
        var problem = Records.Only(Records.With(old, changed));
        Assert.Equal(message, problem.Message);
        Assert.Equal(mend, problem.Mend);
        Assert.Equal(changed.Split(':')[0], problem.Key);
    }

    [Fact]
    public void A_wrong_answer_points_at_its_value()
    {
        var problem = Records.Only(Records.With("tip-chin.rate: 2", "tip-chin.rate: 7"));
        Assert.Equal("record.yaml:16:18", problem.Origin.ToString());
        Assert.Equal(1, problem.Origin.Length);
    }

    [Theory]
    [InlineData(
        "tip-chn.rate: 2",
        "\"tip-chn.rate\" is no answer of this protocol.",
        "Perhaps you mean tip-chin.rate."
    )]
    [InlineData(
        "tip-nose: 2",
        "\"tip-nose\" is not a full name.",
        "The answers of tip-nose are tip-nose.rate.trial-1 and tip-nose.rate.trial-2."
    )]
    [InlineData(
        "tip-nose.rate: 2",
        "\"tip-nose.rate\" is not a full name.",
        "The answers of tip-nose are tip-nose.rate.trial-1 and tip-nose.rate.trial-2."
    )]
    [InlineData(
        "tip-corner.rate: 2",
        "\"tip-corner.rate\" is not a full name.",
        "The answers of tip-corner are tip-corner.rate.right and tip-corner.rate.left."
    )]
    [InlineData(
        "pa-rum: 2",
        "\"pa-rum\" is no answer of this protocol.",
        "Perhaps you mean pa-run. The answers of pa-run are pa-run.syllables.trial-1, pa-run.syllables.trial-2, pa-run.syllables.trial-3, pa-run.run.trial-1, pa-run.run.trial-2 and pa-run.run.trial-3."
    )]
    [InlineData(
        "tip-nose.overflow: seen",
        "\"tip-nose.overflow\" is an observation, not an answer.",
        "Move the line to observations."
    )]
    [InlineData("tongue-total: 5", "\"tongue-total\" is no answer of this protocol.", "")]
    [InlineData(
        "zzzzzzzzz: 5",
        "\"zzzzzzzzz\" is no answer of this protocol.",
        "Take the line out, or write the name as it stands on the sheet."
    )]
    [InlineData(
        "child: Somebody",
        "A record holds no names: use a case code.",
        "Take \"child\" out with what stands under it."
    )]
    public void An_unknown_answer_gets_the_full_names(string line, string message, string mend)
    {
        var problem = Records.Only(Records.With("  tip-chin.rate: 2\n", $"  tip-chin.rate: 2\n  {line}\n"));
        if (line.StartsWith("tongue-total", StringComparison.Ordinal))
        {
            (message, mend) = ("tongue-total is worked out from the answers.", "Take the line out.");
        }

        Assert.Equal(message, problem.Message);
        Assert.Equal(mend, problem.Mend);
    }

    [Theory]
    [InlineData("tip-chin.rate: 2", "tip-chin.rate:")]
    [InlineData("tip-chin.rate: 2", "tip-chin.rate: ~")]
    [InlineData("tip-chin.rate: 2", "tip-chin.rate: null")]
    [InlineData("tip-chin.rate: 2", "tip-chin.rate: \"\"")]
    public void A_blank_answer_is_an_error_and_never_a_zero(string old, string changed)
    {
        var problem = Records.Only(Records.With(old, changed));
        Assert.Equal("tip-chin.rate is blank.", problem.Message);
        Assert.Equal(16, problem.Origin.Line);
    }

    [Fact]
    public void Missing_answers_are_named_task_by_task_and_none_is_lost()
    {
        var answers =
            Records.Good[..Records.Good.IndexOf("  tip-nose.rate", StringComparison.Ordinal)]
            + "  nods.nodded: yes\n";
        var problems = Records.Read(answers).Problems;
        Assert.Equal(
            [
                "tip-nose.rate.trial-1",
                "tip-chin.rate",
                "tip-corner.rate.right",
                "pa-run.syllables.trial-1",
                "first-pair.choice",
            ],
            problems.Select(p => p.Key)
        );
        Assert.Equal("tip-corner.rate.right and tip-corner.rate.left are missing.", problems[2].Message);
        var all = string.Join(" ", problems.Select(p => p.Message));
        foreach (
            var slot in Tiny.Protocol.Program.Answers.Where(a =>
                a.Key is not ("nods.nodded" or "tip-nose.rate.trial-2")
            )
        )
        {
            Assert.Contains(slot.Key, all, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Everything_wrong_is_told_at_once_in_the_order_of_the_text()
    {
        var text = Records
            .With("edition: 1.0", "edition: 2.0")
            .Replace("case: QC-0417", "case: Somebody", StringComparison.Ordinal)
            .Replace("tip-chin.rate: 2", "tip-chin.rate: 9", StringComparison.Ordinal)
            .Replace("nods.nodded: yes", "nods.nodded: maybe\n  bubble.rate: 1", StringComparison.Ordinal)
            .Replace("form: 00000000000000aa", "form: 1", StringComparison.Ordinal);
        var problems = Records.Read(text + "anser: 1\n").Problems;
        Assert.Equal(
            ["edition", "fingerprints.form", "case", "tip-chin.rate", "nods.nodded", "bubble.rate", "anser"],
            problems.Select(p => p.Key)
        );
        Assert.Equal("Perhaps you mean answers.", problems[^1].Mend);
    }

    [Theory]
    [InlineData("age-months: 51", "age: 51", "Perhaps you mean age-months.")]
    [InlineData("age-months: 51", "dob: 2021-03-04", "Perhaps you mean born.")]
    [InlineData("answers:", "anwsers:", "Perhaps you mean answers.")]
    [InlineData("answers:", "responses:", "Perhaps you mean answers.")]
    [InlineData("form: full", "forms: full", "Perhaps you mean form.")]
    public void An_unknown_key_gets_the_nearest_one(string old, string changed, string mend) =>
        Assert.Contains(Records.Read(Records.With(old, changed)).Problems, p => p.Mend == mend);

    [Theory]
    [InlineData("age-months: 51", "age-months: 4;3", "Write 51.")]
    [InlineData("age-months: 51", "age-months: 51.5", "Write a whole number, such as 54 for 4;6.")]
    [InlineData("age-months: 51", "age-months: 99999", "Write a whole number, such as 54 for 4;6.")]
    [InlineData("age-months: 51", "born: 2026-03-05", "Mend born, or the day under parts.")]
    [InlineData("age-months: 51", "born: 1026-03-05", "Mend born, or the day under parts.")]
    [InlineData("age-months: 51", "born: 2021-02-30", "Write year-month-day, such as 2026-03-14.")]
    [InlineData("age-months: 51", "born: 4.3.2021", "Write year-month-day, such as 2026-03-14.")]
    [InlineData(
        "age-months: 51",
        "age-months: 51\nborn: 2021-03-05",
        "Keep one of them; age-months says less about the child."
    )]
    [InlineData("age-months: 51\n", "", "Add a line such as: age-months: 54")]
    [InlineData(
        "  - seen: 2026-03-04",
        "  - seen: 2026-03-04\n  - seen: 2026-03-03",
        "Put the parts in the order of their days; the first decides the age."
    )]
    [InlineData("parts:\n  - seen: 2026-03-04\n", "", "Add parts: and under it: - seen: 2026-03-14")]
    [InlineData("parts:\n  - seen: 2026-03-04\n", "parts:\n", "Write under parts: - seen: 2026-03-14")]
    [InlineData("form: full", "form: half", "Write full or short.")]
    [InlineData("form: full\n", "", "Add a line such as: form: full")]
    [InlineData(
        "protocol: tiny-screen",
        "protocol: other-screen",
        "Score it with its own protocol, or mend the name."
    )]
    [InlineData("case: QC-0417\n", "", "Add a line such as: case: C-014")]
    public void The_sitting_is_checked(string old, string changed, string mend) =>
        Assert.Equal(mend, Records.Only(Records.With(old, changed)).Mend);

    [Theory]
    [InlineData(
        "observations:\n  tip-nose.overflow: yes\n",
        "Write seen; or looked, when you looked and didn't see it; or take the line out when nobody looked."
    )]
    [InlineData("observations:\n  tip-nose.overflw: seen\n", "Perhaps you mean tip-nose.overflow.")]
    [InlineData("help:\n  tip-nose: shown in a mirror\n", "Write said again or shown in the mirror.")]
    [InlineData("help:\n  tip-chin: said again\n", "Take it out, or write one of: tip-nose, tip-nose.rate.")]
    [InlineData("consents:\n  exam: perhaps\n", "Write yes or no.")]
    [InlineData("consents:\n  exams: yes\n", "Perhaps you mean exam.")]
    [InlineData("history:\n  braces: sometimes\n", "Write yes or no.")]
    [InlineData("notes:\n  tip-nos: Wobbles.\n", "Perhaps you mean tip-nose.")]
    [InlineData(
        "notes: Wobbles.\n",
        "Write each on a line of its own, indented, such as: task: \"what you noticed\""
    )]
    [InlineData(
        "overrides:\n  - action: ful-assessment\n    reason: x\n    role: y\n",
        "Perhaps you mean full-assessment."
    )]
    [InlineData(
        "overrides:\n  - action: full-assessment\n    role: y\n",
        "Add a line such as: reason: why the rule was not followed"
    )]
    [InlineData("overrides: none\n", "Write it as: - action: the action's name")]
    [InlineData(
        "corrections:\n  - who: Somebody\n    when: 2026-03-05\n    why: x\n    key: tip-chin.rate\n    old: 2\n    new: 1\n",
        NameGuard.CodeMend
    )]
    [InlineData(
        "corrections:\n  - who: S-1\n    when: yesterday\n    why: x\n    key: tip-chin.rate\n    old: 2\n    new: 1\n",
        "Write year-month-day, such as 2026-03-14."
    )]
    [InlineData("events:\n  - what: gag\n    task: tip-chinn\n", "Perhaps you mean tip-chin.")]
    public void What_stands_beside_the_answers_is_checked(string more, string mend) =>
        Assert.Equal(mend, Records.Only(Records.Good + more).Mend);

    [Fact]
    public void A_key_given_twice_is_refused()
    {
        var problem = Records.Only(Records.With("tip-chin.rate: 2", "tip-chin.rate: 2\n  tip-chin.rate: 1"));
        Assert.Equal(
            "\"tip-chin.rate\" stands here for the second time; the first is in line 16.",
            problem.Message
        );
        Assert.Equal(17, problem.Origin.Line);
    }

    [Fact]
    public void Messages_use_no_words_of_the_workshop()
    {
        string[] banned = ["token", "identifier", "parse", "expression", "null"];
        var texts = new[]
        {
            Records.Good + "x: [1, {a: *b, c: &d e, !f g: h}]\n",
            "{",
            "a:\n\tb: c",
            "a: \"b",
            "[]",
            "",
            "\0",
            "a",
            "a:b",
            Records.Good + "answers: 3\ncase:\nform: [x]",
        };
        foreach (var text in texts)
        {
            foreach (var problem in Records.Read(text).Problems)
            {
                Assert.DoesNotContain(
                    banned,
                    b => problem.ToString().Contains(b, StringComparison.OrdinalIgnoreCase)
                );
                Assert.EndsWith(".", problem.Message, StringComparison.Ordinal);
                Assert.NotEmpty(problem.Mend);
            }
        }
    }
}
