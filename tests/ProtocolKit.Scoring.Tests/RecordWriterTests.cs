using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

public class RecordWriterTests
{
    [Fact]
    public void What_is_read_is_written_and_read_again()
    {
        var record = Records.Sitting(Records.Good) with
        {
            Help = new Dictionary<string, string> { ["tip-nose"] = "said again" },
            Notes = new Dictionary<string, string>
            {
                ["tip-nose"] = "He said: \"no\" \\ then\ntried. 'ok' # {x} é 😀",
            },
            TaskSeconds = new Dictionary<string, int> { ["tip-nose"] = 31, ["nods"] = 0 },
            Override = new Override("no-action", "Seen again anyway: a, b", "clinician"),
            Events =
            [
                new SittingEvent("gag", "tip-chin", null, "at once", null) { GivenBefore = "tip-nose" },
            ],
            Corrections =
            [
                new Correction("S-1", new DateOnly(2026, 3, 5), "slip", "1", "2", "tip-chin.rate"),
            ],
        };
        var text = RecordWriter.Write(Tiny.Protocol, record);
        var again = Records.Sitting(text);
        Assert.Equal(record.Fields, again.Fields);
        Assert.Equal(record.Help, again.Help);
        Assert.Equal(record.Notes, again.Notes);
        Assert.Equal(record.TaskSeconds, again.TaskSeconds);
        Assert.Equal(record.Override, again.Override);
        Assert.Equal(record.Events, again.Events);
        Assert.Equal(record.Corrections, again.Corrections);
        Assert.Equal(text, RecordWriter.Write(Tiny.Protocol, again));
    }

    [Fact]
    public void No_birth_date_is_written() =>
        Assert.DoesNotContain(
            "2021",
            RecordWriter.Write(
                Tiny.Protocol,
                Records.Sitting(Records.With("age-months: 51", "born: 2021-03-05"))
            ),
            StringComparison.Ordinal
        );

    [Property(MaxTest = 500)]
    public Property Any_sitting_is_written_and_read_to_the_same_fields() =>
        Prop.ForAll(
            Sittings().ToArbitrary(),
            record =>
            {
                var text = RecordWriter.Write(Tiny.Protocol, record);
                Assert.Equal(record.Fields, Records.Sitting(text).Fields);
            }
        );

    [Property(MaxTest = 500)]
    public Property Any_sitting_has_a_score_in_its_range() =>
        Prop.ForAll(
            Sittings().ToArbitrary(),
            record =>
            {
                var scored = Scorer.Score(Tiny.Protocol, record);
                Assert.All(
                    scored.Outcomes.Where(o => o.State == State.Known),
                    o => Assert.True(o.Outcome.Low <= o.Low && o.Low <= o.High && o.High <= o.Outcome.High)
                );
                Assert.Contains(scored.Actions, a => a.Decision != Decision.AppliesNot);
            }
        );

    /// <summary>Sittings that can be filled in: in the form's tasks, with a second trial where it is needed.</summary>
    internal static Gen<SittingRecord> Sittings() =>
        from age in Gen.Choose(0, 200)
        from isShort in Gen.Elements(true, false)
        from draws in Gen.ArrayOf(Gen.Choose(0, 1_000_000), Tiny.Protocol.Program.Fields.Count)
        select Sitting(age, isShort, draws);

    private static SittingRecord Sitting(int age, bool isShort, int[] draws)
    {
        var program = Tiny.Protocol.Program;
        var fields = program.Fields.Select(f => f.Low).ToArray();
        (fields[0], fields[1]) = (age, isShort ? 1 : 0);
        foreach (var slot in program.Answers)
        {
            var field = program.Fields[slot.ValueField];
            var first = program.Answers.First(s =>
                s.Task == slot.Task && s.Variant == slot.Variant && s.Response == slot.Response
            );
            var isUnneeded =
                slot is { Trial: 2, Task.Trials.FurtherWhen: not null }
                && (fields[first.StateField] != 0 || fields[first.ValueField] == 2);
            var state = draws[slot.StateField] % 20;
            if ((isShort && !slot.Task.ShortForm) || isUnneeded)
            {
                fields[slot.StateField] = (long)State.NotApplicable;
            }
            else if (state is >= 2 and <= 8)
            {
                fields[slot.StateField] = state;
            }
            else
            {
                fields[slot.ValueField] = field.Low + (draws[slot.ValueField] % (field.High - field.Low + 1));
            }
        }

        foreach (var observation in program.Observations)
        {
            fields[observation.Field] = draws[observation.Field] % 3;
        }

        return new SittingRecord
        {
            Case = "C-1",
            Age = new Age(age),
            Seen = [new DateOnly(2026, 1, 2)],
            IsShortForm = isShort,
            Fields = fields,
        };
    }
}
