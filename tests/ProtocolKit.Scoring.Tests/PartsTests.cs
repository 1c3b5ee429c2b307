using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

/// <summary>Sittings of several parts, raters, agreed records.</summary>
public sealed class PartsTests
{
    private const string Later =
        "  - seen: 2026-03-04\n  - seen: 2026-03-11\n    answers:\n      nods.nodded: yes\n    notes:\n      nods: Shy at first.\n";

    private static string Finished(string before = "out-of-time") =>
        Records
            .With("nods.nodded: yes", $"nods.nodded: {before}")
            .Replace("  - seen: 2026-03-04\n", Later, StringComparison.Ordinal);

    [Fact]
    public void A_later_part_adds_what_was_finished_and_the_first_decides_the_age()
    {
        var record = Records.Sitting(
            Finished().Replace("age-months: 51", "born: 2021-12-08", StringComparison.Ordinal)
        );
        var whole = Records.Sitting(Records.With("age-months: 51", "age-months: 50"));
        Assert.Equal(whole.Fields, record.Fields);
        Assert.Equal(new Age(50), record.Age);
        Assert.Equal("Shy at first.", record.Notes["nods"]);
        Assert.Contains(
            "Finished on 2026-03-11: nods.nodded.",
            Explanation.Of(Scorer.Score(Tiny.Protocol, record)).Events
        );
    }

    [Fact]
    public void What_a_later_part_brought_is_written_under_it()
    {
        var record = Records.Sitting(Finished());
        var text = RecordWriter.Write(Tiny.Protocol, record);
        Assert.Contains("nods.nodded: out-of-time\n", text, StringComparison.Ordinal);
        Assert.Contains("      nods.nodded: yes\n", text, StringComparison.Ordinal);
        var again = Records.Sitting(text);
        Assert.Equal(record.Fields, again.Fields);
        Assert.Equal(record.Later, again.Later);
        Assert.Equal(text, RecordWriter.Write(Tiny.Protocol, again));
    }

    [Fact]
    public void A_task_the_first_part_says_nothing_of_may_come_later()
    {
        var text = Finished().Replace("  nods.nodded: out-of-time\n", "", StringComparison.Ordinal);
        Assert.Equal(Records.Sitting(Finished()).Fields, Records.Sitting(text).Fields);
    }

    [Fact]
    public void An_answer_given_twice_is_refused()
    {
        var problem = Records.Only(Finished("no"));
        Assert.Contains("nods.nodded is given twice", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_first_part_has_no_answers_of_its_own()
    {
        var text = Records.Good.Replace(
            "  - seen: 2026-03-04\n",
            "  - seen: 2026-03-04\n    answers:\n      nods.nodded: yes\n",
            StringComparison.Ordinal
        );
        Assert.Contains("The first part has answers", Records.Only(text).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_finished_answer_can_be_corrected()
    {
        var record = Records.Sitting(
            Finished()
                + "corrections:\n  - who: S-1\n    when: 2026-03-12\n    why: slip\n    key: nods.nodded\n    old: yes\n    new: no\n"
        );
        var text = RecordWriter.Write(Tiny.Protocol, record);
        Assert.Equal(record.Fields, Records.Sitting(text).Fields);
    }

    [Fact]
    public void A_rater_may_say_more_than_a_code()
    {
        var record = Records.Sitting(
            Records.With(
                "rater: SLP-02",
                "rater:\n  code: SLP-02\n  role: student\n  trained-until: 2026-03-03\n  rated: recorded\n  blind: yes"
            )
        );
        Assert.Equal(new Rater("SLP-02", "student", new DateOnly(2026, 3, 3), true, true), record.Rater);
        Assert.Contains(
            "training held until 2026-03-03",
            Assert.Single(record.Remarks),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "rater SLP-02 (student, trained until 2026-03-03, from a recording, blind)",
            Explanation.Of(Scorer.Score(Tiny.Protocol, record)).About,
            StringComparison.Ordinal
        );
        Assert.Equal(record.Rater, Records.Sitting(RecordWriter.Write(Tiny.Protocol, record)).Rater);
    }

    [Theory]
    [InlineData("rater:\n  code: Somebody", "no code")]
    [InlineData("rater:\n  code: R1\n  blind: maybe", "blind is \"maybe\"")]
    [InlineData("rater:\n  code: R1\n  rated: film", "rated is \"film\"")]
    [InlineData("rater:\n  role: student", "code (under rater) is missing")]
    public void What_stands_under_the_rater_is_checked(string rater, string says) =>
        Assert.Contains(
            says,
            Records.Only(Records.With("rater: SLP-02", rater)).Message,
            StringComparison.Ordinal
        );

    [Fact]
    public void A_digest_follows_what_a_record_says_and_not_how_it_is_written()
    {
        var first = Records.Sitting(Records.Good).Digest;
        Assert.Matches("^[0-9a-f]{16}$", first!);
        Assert.Equal(
            first,
            Records.Sitting("# seen twice\n" + Records.With("rater: SLP-02", "rater:   \"SLP-02\"")).Digest
        );
        Assert.Equal(
            first,
            Records
                .Sitting(
                    Records.Good.Replace(
                        "form: full\nrater: SLP-02\n",
                        "rater: SLP-02\nform: full\n",
                        StringComparison.Ordinal
                    )
                )
                .Digest
        );
        Assert.NotEqual(first, Records.Sitting(Records.With("tip-chin.rate: 2", "tip-chin.rate: 1")).Digest);
    }

    [Fact]
    public void An_agreed_record_names_its_two_originals_and_is_held_against_them()
    {
        var one = Records.Sitting(Records.With("SLP-02", "R1"));
        var two = Records.Sitting(
            Records
                .With("SLP-02", "R2")
                .Replace("tip-chin.rate: 2", "tip-chin.rate: 1", StringComparison.Ordinal)
        );
        var agreed = Records.Sitting(Agreed(one, two, "tip-chin.rate: 1"));
        Assert.Empty(AgreedRecords.Check(Tiny.Protocol, agreed, [one, two]).Problems);
        Assert.Equal(
            ["tip-chin.rate: 2 (R1) and 1 (R2) became 1"],
            AgreedRecords.Check(Tiny.Protocol, agreed, [one, two]).Settled
        );

        var other = Records.Sitting(Agreed(one, two, "tip-chin.rate: 1", "nods.nodded: no"));
        Assert.Contains(
            "both originals have",
            Assert.Single(AgreedRecords.Check(Tiny.Protocol, other, [one, two]).Problems),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "not among the records given",
            Assert.Single(AgreedRecords.Check(Tiny.Protocol, agreed, [one]).Problems),
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("  - rater: R1\n    digest: 0123456789abcdef\n")]
    [InlineData("  - rater: R1\n    digest: 0123456789abcdef\n  - rater: R1\n    digest: 0123456789abcdee\n")]
    [InlineData("  - rater: R1\n    digest: 0123456789abcdef\n  - rater: R2\n    digest: 0123456789abcdef\n")]
    public void An_agreed_record_has_two_originals_of_two_raters(string originals) =>
        Assert.Contains(
            "two records of two raters",
            Records.Only(Records.Good + "agreed-from:\n" + originals).Message,
            StringComparison.Ordinal
        );

    private static string Agreed(
        SittingRecord one,
        SittingRecord two,
        string chin,
        string nods = "nods.nodded: yes"
    ) =>
        Records
            .With("rater: SLP-02\n", "")
            .Replace("tip-chin.rate: 2", chin, StringComparison.Ordinal)
            .Replace("nods.nodded: yes", nods, StringComparison.Ordinal)
        + $"agreed-from:\n  - rater: R1\n    digest: {one.Digest}\n  - rater: R2\n    digest: {two.Digest}\n";
}
