using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Scoring;

namespace ProtocolKit.Emit.Tests.Reports;

/// <summary>The team's note holds what a colleague needs to judge a sitting, and no name.</summary>
public class TeamNoteTests
{
    private static readonly string Page = Render(TeamNotes.Of(Example.Scored("qc-0417")));

    [Theory]
    [InlineData("edition 1.0, full form")]
    [InlineData("<dt>Age that day</dt><dd>4;3</dd>")]
    [InlineData("at home: One language, all day.")]
    [InlineData("<dt>Rated by</dt><dd>SLP-02</dd>")]
    [InlineData("recording no")]
    [InlineData(
        "<th scope=\"row\">Lips</th><td>between 8 and 10; one part refused (Paper between the lips)</td>"
    )]
    [InlineData("<b>undecided: look again or as expected</b>; cut-offs for 4;0 to 4;11, provisional")]
    [InlineData("Full oral sensorimotor assessment, within 4 weeks: undecided")]
    [InlineData("Joint assessment with a medical colleague, within 7 days: does not apply.")]
    [InlineData("help used: shown in the mirror, with it 2 (without it counts)")]
    [InlineData("Seen: gags (One point or two).")]
    [InlineData("recovered: After half a minute, without tears")]
    [InlineData("Tongue tip to the corner: child&#39;s right 2, child&#39;s left 1.")]
    [InlineData("A screen makes no diagnosis.")]
    [InlineData("no decision rests on them alone")]
    public void It_tells(string sentence) => Assert.Contains(sentence, Page, StringComparison.Ordinal);

    [Fact]
    public void It_carries_the_three_fingerprints()
    {
        var prints = Example.Protocol.Fingerprints;
        Assert.Contains(
            $"form {prints.Form}, administration {prints.Administration}",
            Page,
            StringComparison.Ordinal
        );
        Assert.Contains(prints.Interpretation, Page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_clinicians_own_decision_stands_beside_the_rules_with_its_reason()
    {
        var page = Render(
            TeamNotes.Of(
                Example.Scored(
                    "qc-0417",
                    (
                        "events:\n",
                        "overrides:\n  - action: full-assessment\n    reason: \"Two unclear totals and worried parents.\"\n    role: speech-language pathologist\n\nevents:\n"
                    )
                )
            )
        );
        Assert.Contains("Finish the untried parts, within 4 weeks.", page, StringComparison.Ordinal);
        Assert.Contains(
            "decided otherwise: Full oral sensorimotor assessment, within 4 weeks. Reason: Two unclear totals and worried parents.",
            page,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Where_something_moves_off_the_middle_is_told_by_the_childs_own_side() =>
        Assert.Contains(
            "Slow opening: goes to the child&#39;s left.",
            Render(TeamNotes.Of(Example.Scored("qc-0731"))),
            StringComparison.Ordinal
        );

    [Fact]
    public void What_changed_is_told_only_where_an_earlier_sitting_is_given()
    {
        Assert.DoesNotContain("Since last time", Page, StringComparison.Ordinal);
        var now = Example.Scored(
            "qc-0417",
            ("2026-03-04", "2026-06-01"),
            ("age-months: 51", "age-months: 54")
        );
        var page = Render(TeamNotes.Of(now, Example.Scored("qc-0417")));
        Assert.Contains("Seen before on 2026-03-04.", page, StringComparison.Ordinal);
        Assert.Contains(
            "Tongue: the same value: within the error of measurement. That shows neither a change nor that there is none.",
            page,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void The_profile_says_in_words_all_that_it_draws()
    {
        var note = TeamNotes.Of(Example.Scored("qc-0417"));
        var chart = ProfileChart.Of(note.Profile);
        Assert.Equal(["Jaw", "Lips", "Tongue"], note.Profile.Take(3).Select(r => r.Title));
        Assert.Contains(
            "Jaw: 10, as expected (provisional); look further 0 to 5, look again 6 to 7, as expected 8 to 12.",
            chart.InWords,
            StringComparison.Ordinal
        );
        Assert.Contains("Lips: between 8 and 10, undecided;", chart.InWords, StringComparison.Ordinal);
        Assert.Contains($"aria-label=\"{chart.InWords}", Page, StringComparison.Ordinal);
        Assert.Contains($"In words: {chart.InWords}", Page, StringComparison.Ordinal);

        // One full circle for each exact value, a thick bar with two ends for each open one.
        var open = note.Profile.Count(r => r.Low != r.High);
        Assert.Equal(note.Profile.Count - open, chart.Marks.Count);
        Assert.Equal(3 * open, chart.Lines.Count(l => l.Style == "thick"));
    }

    [Fact]
    public void The_worst_stands_at_the_left_also_where_less_is_better()
    {
        var row = new Model.ProfileRow(
            "Time",
            30,
            1,
            5,
            5,
            "5 s",
            "best",
            [new("worst", 10, 30), new("best", 1, 9)]
        );
        var chart = ProfileChart.Of([row]);
        var worst = chart.Texts.Single(t => t.Text == "10 to 30");
        var best = chart.Texts.Single(t => t.Text == "1 to 9");
        Assert.True(worst.X < best.X);
        Assert.True(
            Assert.Single(chart.Marks).X
                > chart.Lines.Where(l => l.X1 == l.X2).OrderBy(l => l.X1).ElementAt(1).X1
        );
    }

    private static string Render(Model.TeamNote note) =>
        TeamNotePage.Render(note, OutputOptions.Default, TemplateSource.BuiltIn).Text;
}
