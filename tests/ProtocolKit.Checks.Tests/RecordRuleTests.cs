using ProtocolKit.Language;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Checks.Tests;

/// <summary>Rules about names, families, claims, ages and records, on texts small enough to work out by hand.</summary>
public sealed class RecordRuleTests
{
    private const string Sided = """
        task swing, each side right, left
          trials 2, keep highest swings
          count swings 0 to 9
          time  length in s, step 0.1, 1 to 9
        task kiss item(three)
        score total "Total" = swing.swings.left + swing.swings.right
        score lips "Lips" = 2 * kiss

        """;

    /// <summary>The one order: task, response, side, trial.</summary>
    [Fact]
    public void R15_names_stand_in_one_order_in_records_and_rules()
    {
        var compiled = Compiled.Fragment(Sided);
        Assert.Equal(
            [
                "kiss.rate",
                "swing.length.left.trial-1",
                "swing.length.left.trial-2",
                "swing.length.right.trial-1",
                "swing.length.right.trial-2",
                "swing.swings.left.trial-1",
                "swing.swings.left.trial-2",
                "swing.swings.right.trial-1",
                "swing.swings.right.trial-2",
            ],
            compiled.Program.Answers.Select(a => a.Key).Order(StringComparer.Ordinal)
        );
        var record = compiled.Lowest();
        compiled.Set(record, "swing.swings.left.trial-2", 4);
        compiled.Set(record, "swing.swings.right.trial-1", 3);
        compiled.Set(record, "kiss.rate", 1);
        Assert.Equal(7, compiled.Value("total", compiled.Run(record)));
        Assert.Equal(2, compiled.Value("lips", compiled.Run(record)));
    }

    /// <summary>Helpers who took the original form, and those who took its translation, write their own words.</summary>
    [Theory]
    [InlineData("said again", "noch einmal gesagt")]
    [InlineData("noch einmal gesagt", "noch einmal gesagt")]
    [InlineData("said twice", null)]
    public void Help_of_a_translated_form_is_named_in_either_language(string written, string? read)
    {
        (string, string)[] words =
        [
            ("said again", "noch einmal gesagt"),
            .. "Tiny Kiss Lips yes no full part none clear rough".Split(' ').Select(w => (w, w + " (de)")),
        ];
        var translation =
            "translation tiny to de\n  status unreviewed \"Invented.\"\n"
            + string.Concat(words.Select(w => $"text \"{w.Item1}\"\n  becomes \"{w.Item2}\"\n"));
        var compilation = Compiled
            .Fragment("task kiss \"Kiss\"\n  rate three\n  help said again\nscore lips \"Lips\" = 2 * kiss\n")
            .Compilation.Translated(new SourceText("check.de.translation", translation));
        var translated = compilation.Protocol;
        Assert.True(
            translated is not null,
            string.Concat(compilation.Diagnostics.Select(DiagnosticText.Render))
        );
        var reading = RecordReader.Read(
            "protocol: tiny\nedition: 1.0\ncase: T-1\nage-months: 60\nparts:\n  - seen: 2026-03-04\n"
                + $"answers:\n  kiss.rate: 0\nhelp:\n  kiss: {written}\n  kiss.rate: 1\n",
            "record.yaml",
            translated
        );
        Assert.Equal(read, reading.Record?.Help["kiss"]);
    }

    [Theory]
    [InlineData("score s \"S\" = swing.left.swings")] // the side before the answer
    [InlineData("score s \"S\" = swing.swings")] // a sided answer without a side
    [InlineData("score s \"S\" = swing")] // two answers, and two sides
    [InlineData("task kiss item(three)")] // a task name twice
    [InlineData("task lick\n  rate three\n  rate three\nscore s \"S\" = lick")] // a second of its kind, unnamed
    public void R15_other_orders_and_bare_sided_tasks_are_refused(string more) =>
        Assert.Single(
            Compiled.Fragment(Sided + more + "\n").Compilation.Diagnostics,
            d => d.Severity == Severity.Error
        );

    [Fact]
    public void R15_an_unnamed_answer_is_called_by_its_keyword_and_a_bare_task_means_its_only_one()
    {
        var compiled = Compiled.Fragment(
            "task lick\n  rate three\n  rate smooth on three\ntask nod\n  choice\n    up \"Up.\"\n    down \"Down.\"\nscore s \"S\" = lick.rate + lick.smooth\n"
        );
        Assert.Equal(
            ["lick.rate", "lick.smooth", "nod.choice"],
            compiled.Program.Answers.Select(a => a.Key).Order(StringComparer.Ordinal)
        );
    }

    /// <summary>First the parameters, then the sides, then what the task says itself.</summary>
    [Fact]
    public void R17_each_substitutes_expands_and_then_overrides()
    {
        var compiled = Compiled.Fragment(
            """
            family touch(part, cue = "Here.")
              say  "Touch the {part}. {cue}"
              show "Point to the {side}."
              rate three
            task cheek touch("cheek"), each side right, left
            task lip touch("lip", "There."), each side right, left
              show "Do it yourself."
            """
        );
        var (cheek, lip) = (compiled.Protocol.Tasks[0], compiled.Protocol.Tasks[1]);
        Assert.Equal(["Point to the right.", "Point to the left."], cheek.Variants.SelectMany(v => v.Show));
        Assert.Equal(
            ["Touch the cheek. Here.", "Touch the cheek. Here."],
            cheek.Variants.SelectMany(v => v.Say)
        );
        Assert.Equal(["Do it yourself.", "Do it yourself."], lip.Variants.SelectMany(v => v.Show));
        Assert.Equal("Touch the lip. There.", lip.Variants[0].Say[0]);
    }

    [Theory]
    [InlineData("task a touch(three), each side right, right\n")]
    [InlineData("task a touch(three)\n  yes-no rate \"Moved?\"\n")]
    public void R17_duplicates_and_changed_answers_are_errors(string task) =>
        Assert.Contains(
            Compiled.Fragment("family touch(s)\n  rate s\n" + task).Compilation.Diagnostics,
            d => d.Severity == Severity.Error
        );

    /// <summary>Premise and conclusion by hand: kiss 0 and smile 2, then with smile refused.</summary>
    [Theory]
    [InlineData(0, 0, State.Known, true)] // premise holds, conclusion fails
    [InlineData(0, 2, State.Known, false)] // premise holds, conclusion holds
    [InlineData(1, 0, State.Known, false)] // premise fails
    [InlineData(0, 0, State.Refused, false)] // conclusion open: no counterexample
    public void R21_a_claim_fails_only_where_it_surely_does(int kiss, int smile, State state, bool fails)
    {
        var compiled = Compiled.Fragment(
            "task kiss item(three)\ntask smile item(three)\nscore k \"K\" = 1 * kiss\nscore s \"S\" = 1 * smile\n"
                + "claim \"who can't kiss can smile\"\n  when k = 0 then s = 2\n"
        );
        var record = compiled.Lowest();
        compiled.Set(record, "kiss.rate", kiss);
        compiled.Set(record, "smile.rate", smile, state);
        var lines = compiled.Run(record);
        var claim = Assert.Single(compiled.Program.Claims);
        Assert.Equal(fails, lines[claim.PremiseLine] == 1 && lines[claim.ConclusionFailsLine] == 1);
    }

    [Fact]
    public void R21_an_open_premise_is_no_counterexample()
    {
        var compiled = Compiled.Fragment(
            "task kiss item(three)\nscore k \"K\" = 1 * kiss\nclaim \"never\"\n  when k = 0 then k = 2\n"
        );
        var record = compiled.Lowest();
        compiled.Set(record, "kiss.rate", 0, State.OutOfTime);
        var claim = compiled.Program.Claims[0];
        Assert.Equal(0, compiled.Run(record)[claim.PremiseLine]);
    }

    /// <summary>Off the step, out of bounds, an unknown name and a missing answer: told at once, in the order of the text.</summary>
    [Fact]
    public void R23_illegal_answers_refuse_the_record_all_at_once()
    {
        var compiled = Compiled.Fragment(Sided);
        const string text = """
            protocol: tiny
            edition: 1.0
            case: C-1
            age-months: 50
            parts:
              - seen: 2026-03-04
            answers:
              swing.swings.right.trial-1: 10
              swing.length.right.trial-1: 1.25
              swing.swings.right.trial-2: 4
              swing.length.right.trial-2: 2
              swing.swings.left.trial-1: many
              swing.length.left.trial-1: 2
              swing.swings.left.trial-2: 4
              swing.length.left.trial-2: 2
              kiss.rate: 3
              kis.rate: 2
            """;
        var reading = RecordReader.Read(text, "record.yaml", compiled.Protocol);
        Assert.Null(reading.Record);
        Assert.Equal([8, 9, 12, 16, 17], reading.Problems.Select(p => p.Origin.Line));
    }

    /// <summary>The day before the sixth birthday is five years eleven months, for a child of 29 February too.</summary>
    [Theory]
    [InlineData("2020-03-15", "2026-03-14", "low")]
    [InlineData("2020-03-15", "2026-03-15", "high")]
    [InlineData("2020-02-29", "2026-02-28", "low")]
    [InlineData("2020-02-29", "2026-03-01", "high")]
    [InlineData("2020-03-31", "2026-03-30", "low")]
    public void R14_the_row_follows_the_completed_months_of_the_first_part(
        string born,
        string seen,
        string band
    )
    {
        var compiled = Compiled.Fragment(
            """
            task kiss item(three)
            score k "K" = 1 * kiss
            cut-offs k
              ages         low     high
              4;0 to 5;11  0 to 2  none
              6;0 to 6;11  none    0 to 2
              basis provisional "invented"

            """,
            "4;0 to 6;11"
        );
        var text =
            $"protocol: tiny\nedition: 1.0\ncase: C-1\nborn: {born}\nparts:\n  - seen: {seen}\n  - seen: 2026-06-01\nanswers:\n  kiss.rate: 1\n";
        var record = RecordReader.Read(text, "record.yaml", compiled.Protocol).Record!;
        Assert.Equal(band, Scorer.Score(compiled.Protocol, record).Bands[0].Band!.Name);
    }

    [Fact]
    public void R14_outside_the_ages_no_band_applies()
    {
        var compiled = Compiled.Fragment(
            "task kiss item(three)\nscore k \"K\" = 1 * kiss\ncut-offs k\n  ages  low  high\n  4;0 to 5;11  0  1 to 2\n  basis provisional \"invented\"\n"
        );
        var text =
            "protocol: tiny\nedition: 1.0\ncase: C-1\nage-months: 72\nparts:\n  - seen: 2026-06-01\nanswers:\n  kiss.rate: 1\n";
        var scored = Scorer.Score(
            compiled.Protocol,
            RecordReader.Read(text, "record.yaml", compiled.Protocol).Record!
        );
        Assert.Equal(BandState.NotApplicable, scored.Bands[0].State);
    }
}
