using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

/// <summary>Corrections: the record keeps what was written first, the correction holds what stands now.</summary>
public sealed class CorrectionTests
{
    [Fact]
    public void A_correction_counts_and_the_original_stays()
    {
        var record = Records.Sitting(Records.Good + One("tip-chin.rate", "2", "1"));
        Assert.Equal(1, Value(record, "tip-chin.rate"));
        var text = RecordWriter.Write(Tiny.Protocol, record);
        Assert.Contains("tip-chin.rate: 2\n", text, StringComparison.Ordinal);
        Assert.Equal(record.Fields, Records.Sitting(text).Fields);
        Assert.Equal(text, RecordWriter.Write(Tiny.Protocol, Records.Sitting(text)));
        Assert.Contains(
            "Corrected by S-1 on 2026-03-05: tip-chin.rate 2 became 1 (slip).",
            Explanation.Of(Scorer.Score(Tiny.Protocol, record)).Events
        );
    }

    [Theory]
    [InlineData("tip-chin.rate", "1", "0", "was \"1\", but the record has \"2\"")]
    [InlineData("tip-chin.rate", "absent", "1", "was \"absent\", but the record has \"2\"")]
    [InlineData("tip-chin.rate", "2", "2.0", "changes nothing")]
    [InlineData("tip-chim.rate", "2", "1", "nothing that can be corrected")]
    [InlineData("tip-chin.rate", "2", "3", "no level of the scale")]
    [InlineData("tip-nose.overflow", "seen", "looked", "but the record has \"absent\"")]
    public void A_correction_that_does_not_fit_is_refused(string key, string old, string now, string says) =>
        Assert.Contains(
            says,
            Records.Only(Records.Good + One(key, old, now)).Message,
            StringComparison.Ordinal
        );

    [Fact]
    public void Corrections_of_one_answer_follow_each_other()
    {
        var text = Records.Good + One("tip-chin.rate", "2.0", "0") + Next("tip-chin.rate", "0", "refused");
        var record = Records.Sitting(text);
        Assert.Equal(State.Refused, StateOf(record, "tip-chin.rate"));
        Assert.Contains(
            "but the record has \"0\"",
            Records
                .Only(Records.Good + One("tip-chin.rate", "2", "0") + Next("tip-chin.rate", "2", "1"))
                .Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_sign_and_an_age_can_be_corrected_and_a_line_can_come_or_go()
    {
        var record = Records.Sitting(
            Records.Good + One("tip-nose.overflow", "absent", "seen") + Next("age-months", "51", "52")
        );
        Assert.Equal(2, record.Fields[Tiny.Protocol.Program.Observations.Single().Field]);
        Assert.Equal(new Age(52), record.Age);
        var again = Records.Sitting(RecordWriter.Write(Tiny.Protocol, record));
        Assert.Equal(record.Fields, again.Fields);
        Assert.Equal(record.Age, again.Age);
    }

    [Fact]
    public void A_corrected_birth_date_is_written_in_months()
    {
        var record = Records.Sitting(
            Records.With("age-months: 51", "born: 2021-12-01") + One("born", "2021-12-01", "2021-11-30")
        );
        var text = RecordWriter.Write(Tiny.Protocol, record);
        Assert.DoesNotContain("2021", text, StringComparison.Ordinal);
        Assert.Equal(record.Age, Records.Sitting(text).Age);
    }

    [Fact]
    public void Nothing_is_corrected_before_the_child_was_seen() =>
        Assert.Contains(
            "before the child was seen",
            Records
                .Only(
                    Records.Good
                        + One("tip-chin.rate", "2", "1").Replace("03-05", "03-01", StringComparison.Ordinal)
                )
                .Message,
            StringComparison.Ordinal
        );

    private static string One(string key, string old, string now) => "corrections:\n" + Next(key, old, now);

    private static string Next(string key, string old, string now) =>
        $"  - who: S-1\n    when: 2026-03-05\n    why: slip\n    key: {key}\n    old: {old}\n    new: {now}\n";

    private static long Value(SittingRecord record, string key) =>
        record.Fields[Tiny.Protocol.Program.Answers.Single(a => a.Key == key).ValueField];

    private static State StateOf(SittingRecord record, string key) =>
        (State)record.Fields[Tiny.Protocol.Program.Answers.Single(a => a.Key == key).StateField];
}
