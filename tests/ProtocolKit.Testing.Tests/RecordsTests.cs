using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Model;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Testing.Tests;

public class RecordsTests
{
    private static readonly Protocol Screen = SampleScreen.Protocol();
    private static readonly ScoringProgram Program = Screen.Program;

    [Fact]
    public void Every_record_is_one_a_clinician_could_have_filled()
    {
        foreach (var fields in Records.AllAtEdges(Screen).Concat(Records.Random(Screen, 3000, 5)))
        {
            AssertValid(fields);
        }
    }

    [Property]
    public Property Records_and_all_they_shrink_to_are_valid() =>
        Prop.ForAll(
            Records.Any(Screen),
            fields =>
            {
                AssertValid(fields);
                foreach (var simpler in Records.Shrink(Screen, fields))
                {
                    AssertValid(simpler);
                }
            }
        );

    [Fact]
    public void The_same_seed_gives_the_same_records_and_another_seed_others()
    {
        Assert.Equal(Records.Random(Screen, 300, 7), Records.Random(Screen, 300, 7));
        Assert.Equal(Records.Random(Screen, 300, 7).Take(50), Records.Random(Screen, 300, 7).Take(50));
        Assert.NotEqual(Records.Random(Screen, 300, 7), Records.Random(Screen, 300, 8));
        Assert.Equal(300, Records.Random(Screen, 300, 7).Count());
    }

    [Fact]
    public void Random_records_come_to_every_value_code_form_and_band_of_ages()
    {
        var records = Records.Random(Screen, 4000, 1).ToList();

        foreach (var answer in Program.Answers)
        {
            var states = records.Select(r => (State)r[answer.StateField]).ToHashSet();
            Assert.Superset(States.Untried.Select(u => u.State).Append(State.Known).ToHashSet(), states);
            var (low, high) = (Program.Fields[answer.ValueField].Low, Program.Fields[answer.ValueField].High);
            var known = records
                .Where(r => r[answer.StateField] == 0)
                .Select(r => r[answer.ValueField])
                .ToHashSet();
            Assert.Contains(low, known);
            Assert.Contains(high, known);
            Assert.True(known.Count > Math.Min(high - low, 40), $"{answer.Key} has {known.Count} values");
        }

        Assert.Equal([0L, 1L], records.Select(r => r[Program.FormField]).Distinct().Order());
        Assert.Equal([0L, 1L, 2L], records.Select(r => r[Program.Observations[0].Field]).Distinct().Order());
        var ages = records.Select(r => r[Program.AgeField]).ToHashSet();
        Assert.Superset(Enumerable.Range(46, 28).Select(m => (long)m).ToHashSet(), ages);
    }

    [Fact]
    public void Random_records_are_nearly_all_different() =>
        Assert.True(Records.Random(Screen, 1000, 3).Select(Text).Distinct().Count() > 900);

    [Fact]
    public void Edges_have_each_single_value_and_code_and_each_side_of_every_age_limit()
    {
        var edges = Records.AllAtEdges(Screen).ToList();
        foreach (var answer in Program.Answers)
        {
            foreach (var (state, code, _) in States.Untried)
            {
                Assert.True(edges.Exists(e => e[answer.StateField] == (long)state), $"{answer.Key} {code}");
            }

            Assert.Contains(edges, e => IsKnown(e, answer, Program.Fields[answer.ValueField].Low));
            Assert.Contains(edges, e => IsKnown(e, answer, Program.Fields[answer.ValueField].High));
        }

        Assert.Superset(
            new HashSet<long> { 47, 48, 59, 60, 71, 72, 0, 2399 },
            edges.Select(e => e[Program.AgeField]).ToHashSet()
        );
        Assert.Equal(2, edges.Select(e => e[Program.FormField]).Distinct().Count());
    }

    [Fact]
    public void The_flawless_sheet_is_the_youngest_child_at_the_better_end_of_everything()
    {
        var plain = PlainRecord.From(Screen, Records.Flawless(Screen));

        Assert.Equal((48, false), (plain.AgeMonths, plain.IsShortForm));
        Assert.Equal(
            "kiss.rate.trial-1 2, corner.rate.right 2, corner.rate.left 2, swap.swaps 60, swap.run 0.5, "
                + "look.choice closed, look.direction middle, look.asks yes, look.gap 70",
            string.Join(", ", plain.Answers.Select(a => $"{a.Key} {a.Text}"))
        );
        Assert.Equal(
            "kiss.groping looked",
            string.Join(", ", plain.Observations.Select(o => $"{o.Key} {o.Text}"))
        );
        Assert.Equal(0, Records.CountDiffering(Screen, Records.Flawless(Screen)));
        Assert.Empty(Records.Shrink(Screen, Records.Flawless(Screen)));
    }

    [Fact]
    public void Shrinking_ends_at_the_fewest_answers_that_keep_a_property()
    {
        var left = Program.Answers.First(a => a.Key == "corner.rate.left");
        var run = Program.Answers.First(a => a.Key == "swap.run");
        bool Keeps(long[] f) => f[left.StateField] == (long)State.Refused && f[run.ValueField] > 77;
        var start = Records.Random(Screen, 20000, 2).First(Keeps);

        var end = start;
        while (Records.Shrink(Screen, end).FirstOrDefault(Keeps) is { } simpler)
        {
            end = simpler;
        }

        var plain = PlainRecord.From(Screen, end);
        Assert.Equal(
            ["corner.rate.left: refused (not 2)", "swap.run: 7.8 (not 0.5)"],
            plain.DifferencesFrom(PlainRecord.From(Screen, Records.Flawless(Screen)))
        );
        Assert.Equal(2, Records.CountDiffering(Screen, end));
    }

    [Fact]
    public void A_protocol_without_a_short_form_has_no_short_records()
    {
        var builder = new ProgramBuilder();
        builder.Number("x", 0, 3);
        var protocol = builder.Build();

        Assert.All(
            Records.AllAtEdges(protocol).Concat(Records.Random(protocol, 200, 1)),
            f => Assert.Equal(0, f[protocol.Program.FormField])
        );
    }

    private static bool IsKnown(long[] fields, AnswerSlot answer, long value) =>
        fields[answer.StateField] == 0 && fields[answer.ValueField] == value;

    private static string Text(long[] fields) => string.Join(' ', fields);

    /// <summary>The rules of a record (commands.md and core.md R10), written out once more.</summary>
    private static void AssertValid(long[] fields)
    {
        Assert.Equal(Program.Fields.Count, fields.Length);
        for (var i = 0; i < fields.Length; i++)
        {
            Assert.InRange(fields[i], Program.Fields[i].Low, Program.Fields[i].High);
        }

        foreach (var answer in Program.Answers)
        {
            var state = (State)fields[answer.StateField];
            Assert.True(
                state == State.Known || fields[answer.ValueField] == Program.Fields[answer.ValueField].Low
            );
            var offForm = fields[Program.FormField] == 1 && answer.Task.Name == "corner";
            if (answer.Key != "kiss.rate.trial-2")
            {
                Assert.Equal(offForm, state == State.NotApplicable);
            }
        }

        var (first, second) = (Program.Answers[0], Program.Answers[1]);
        if (fields[first.StateField] == (long)State.Known)
        {
            Assert.Equal(
                fields[first.ValueField] == 2,
                fields[second.StateField] == (long)State.NotApplicable
            );
        }
    }
}
