using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Checks.Tests;

/// <summary>What a record must hold, and may leave blank, where tasks are stopped, closed or left out.</summary>
public sealed class RoutedRecordTests
{
    private const string Text = """
        caution touch "Ask first."
          for contact mouth
        section s "Lips"
          stop after 2 tasks in a row rated 0
          task a "Kiss" item(three)
          task b "Smile" item(three)
          task c "Seal" item(three)
        task press "Press"
          contact mouth
          rate three
        task grip "Grip"
          contact mouth
          rate three
        score t "T"
          add up rate of every task in s
        score u "U" = press + grip
        event gag "The child gags.", stops mouth contact
        case-history
          ask sore "Is the mouth sore?", yes-no
            yes closes grip
        """;

    private static readonly Compiled Compiled = Compiled.Fragment(Text);

    private static RecordReading Read(string answers, string rest = "history:\n  sore: no\n") =>
        RecordReader.Read(
            $"protocol: tiny\nedition: 1.0\ncase: T-1\nage-months: 60\nparts:\n  - seen: 2026-03-04\n{rest}answers:\n{answers}",
            "record.yaml",
            Compiled.Protocol
        );

    private static string Said(RecordReading reading) => string.Join('\n', reading.Problems);

    [Fact]
    public void After_a_stop_answers_may_be_blank_and_score_says_so()
    {
        var reading = Read("  a.rate: 0\n  b.rate: 0\n  c.rate:\n  press.rate: 1\n  grip.rate: 2\n");
        Assert.True(reading.Record is not null, Said(reading));
        var explanation = Explanation.Of(Scorer.Score(Compiled.Protocol, reading.Record));
        Assert.Equal(
            ["Lips: stopped after Smile; the rest was not given (Seal: left out)."],
            explanation.NotGiven
        );
    }

    [Fact]
    public void Without_a_stop_a_blank_is_an_error_that_names_the_cell()
    {
        var reading = Read("  a.rate: 0\n  b.rate: 1\n  c.rate:\n  press.rate: 1\n");
        Assert.Null(reading.Record);
        Assert.Contains("c.rate is blank", Said(reading), StringComparison.Ordinal);
        Assert.Contains("grip.rate is missing", Said(reading), StringComparison.Ordinal);
    }

    [Fact]
    public void An_answer_after_the_stop_is_kept_told_of_and_not_counted()
    {
        var reading = Read("  a.rate: 0\n  b.rate: 0\n  c.rate: 2\n  press.rate: 1\n  grip.rate: 2\n");
        Assert.True(reading.Record is not null, Said(reading));
        Assert.Contains(
            reading.Record.Remarks,
            r => r.StartsWith("Seal was given although", StringComparison.Ordinal)
        );
        Assert.Equal(0, Compiled.Value("t", Compiled.Run([.. reading.Record.Fields])));
        Assert.Equal(
            2,
            reading.Record.Fields[Compiled.Program.Answers.Single(s => s.Key == "c.rate").ValueField]
        );
    }

    [Fact]
    public void A_closed_task_may_be_blank_and_is_not_possible()
    {
        var reading = Read(
            "  a.rate: 1\n  b.rate: 1\n  c.rate: 1\n  press.rate: 1\n",
            "history:\n  sore: yes\n"
        );
        Assert.True(reading.Record is not null, Said(reading));
        var scored = Scorer.Score(Compiled.Protocol, reading.Record);
        Assert.Equal(State.NotPossible, scored.Kept.Single(k => k.Lines.Task.Name == "grip").State);
    }

    [Fact]
    public void A_question_that_closes_tasks_must_be_answered()
    {
        var reading = Read("  a.rate: 1\n  b.rate: 1\n  c.rate: 1\n  press.rate: 1\n  grip.rate: 1\n", "");
        Assert.Contains("sore", Said(reading), StringComparison.Ordinal);
        Assert.Null(reading.Record);
    }

    [Fact]
    public void After_a_gag_the_remaining_mouth_tasks_are_stopped_and_never_rated()
    {
        const string gag =
            "history:\n  sore: no\nevents:\n  - what: gag\n    task: press\n    touched: the strip\n    recovered: at once\n    done: a pause\n";
        const string before = "  a.rate: 1\n  b.rate: 1\n  c.rate: 1\n  press.rate: 1\n";
        var rated = Read(before + "  grip.rate: 0\n", gag);
        Assert.Null(rated.Record);
        Assert.Contains("grip.rate comes after the gag at press", Said(rated), StringComparison.Ordinal);
        var stopped = Read(before + "  grip.rate: stopped\n", gag);
        Assert.True(stopped.Record is not null, Said(stopped));
        Assert.Equal(
            ((Rational)1, (Rational)3),
            Compiled.Ends("u", Compiled.Run([.. stopped.Record.Fields]))
        );
        var bare = Read(before + "  grip.rate: stopped\n", "history:\n  sore: no\nevents:\n  - what: gag\n");
        Assert.Contains("touched (under events) is missing", Said(bare), StringComparison.Ordinal);
        var unknown = Read(before + "  grip.rate: 1\n", "history:\n  sore: no\nevents:\n  - what: gga\n");
        Assert.Contains("Perhaps you mean gag", Said(unknown), StringComparison.Ordinal);
    }
}
