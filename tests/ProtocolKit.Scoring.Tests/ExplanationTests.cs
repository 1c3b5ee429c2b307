using System.Text.Json;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

public class ExplanationTests
{
    [Fact]
    public void A_whole_explanation_reads_as_a_clinician_would_say_it()
    {
        var text = ExplanationText.Write(
            Explain(
                Records.With("tip-chin.rate: 2", "tip-chin.rate: refused")
                    + """
                    help:
                      tip-nose: shown in the mirror
                      tip-nose.rate: 2
                    observations:
                      tip-nose.overflow: seen
                    events:
                      - what: gag
                        task: tip-chin
                        recovered: at once
                    notes:
                      tip-corner.left: "Slower."
                    overrides:
                      - action: full-assessment
                        reason: "Meals take long."
                        role: speech-language pathologist
                    """
            )
        );
        Assert.Equal(
            """
            Tiny screen, edition 1.0
            Case QC-0417, 4;3, seen 2026-03-04, full form, rater SLP-02

            Result
              No action.
              The clinician (speech-language pathologist) decided otherwise: Full assessment, within 2 weeks. Reason: Meals take long. The rule's own result stands above.

            Scores and measures
              Tongue: 5 of 8, one part refused (Tongue tip to the chin), so between 5 and 7: as expected either way (cut-offs for 4;0 to 5;11, provisional).
              Pa rate: 3.8 syllables/s, as expected (cut-offs for 4;0 to 11;11, provisional). From Pa run: 22 syllables / 5.8 s (second trial kept); timed by hand, give or take 0.3 s.

            Actions
              Full assessment, within 2 weeks: does not apply.
              Finish the untried parts, within 4 weeks: does not apply.
              Screen again, within 12 weeks: does not apply.
              No action: applies, as no other action does.

            Not tried
              Tongue tip to the chin: refused.

            Answers
              Tongue tip to the nose: 2 (second trial kept); help used: shown in the mirror, with it 2 (without it counts).
              Tongue tip to the chin: refused.
              Tongue tip to the corner, right: 2.
              Tongue tip to the corner, left: 1; note: Slower.
              Pa run: 22 syllables, 5.8 s (second trial kept).
              First pair: As shown.
              Nods: yes.

            Signs
              Seen: neck, jaw or hands join in (Tongue tip to the nose).

            Events and corrections
              Gag; at Tongue tip to the chin; recovered: at once.

            Please keep in mind
              A screen makes no diagnosis: it says who needs a closer look.
              Provisional cut-offs do not rest on enough children yet: take their bands as a first guess.
              Local rules and the judgement of the licensed clinician come first.

            """.ReplaceLineEndings("\n"),
            text
        );
    }

    [Theory]
    [InlineData(
        "tip-chin.rate: 2",
        "tip-chin.rate: 0",
        "Tongue: 5 of 8, as expected (cut-offs for 4;0 to 5;11, provisional)."
    )]
    [InlineData(
        "tip-corner.rate.right: 2",
        "tip-corner.rate.right: not-possible",
        "Tongue: 5 of 8, one part not possible (Tongue tip to the corner, right), so between 5 and 7: as expected either way (cut-offs for 4;0 to 5;11, provisional)."
    )]
    [InlineData(
        "tip-chin.rate: 2\n  tip-corner.rate.right: 2",
        "tip-chin.rate: refused\n  tip-corner.rate.right: refused",
        "Tongue: 3 of 8, two parts refused (Tongue tip to the chin; Tongue tip to the corner, right), so between 3 and 7: undecided between look again and as expected (cut-offs for 4;0 to 5;11, provisional)."
    )]
    [InlineData(
        "tip-chin.rate: 2\n  tip-corner.rate.right: 2\n  tip-corner.rate.left: 1",
        "tip-chin.rate: refused\n  tip-corner.rate.right: spoiled\n  tip-corner.rate.left: spoiled",
        "Tongue: 2 of 8, one part refused (Tongue tip to the chin) and two parts spoiled (Tongue tip to the corner, right; Tongue tip to the corner, left), so between 2 and 8: undecided, it could be look further, look again or as expected (cut-offs for 4;0 to 5;11, provisional)."
    )]
    public void A_score_is_said_with_what_is_missing(string old, string changed, string sentence) =>
        Assert.Equal(sentence, Sentence(Records.With(old, changed), "tongue-total"));

    [Fact]
    public void A_measure_without_any_answer_is_not_known()
    {
        var text = Records.Good;
        foreach (
            var trial in new[]
            {
                "trial-1: 20",
                "trial-2: 22",
                "trial-3: 21",
                "trial-1: 6.0",
                "trial-2: 5.8",
                "trial-3: 5.9",
            }
        )
        {
            text = text.Replace(trial, trial.Split(' ')[0] + " refused", StringComparison.Ordinal);
        }

        Assert.Equal(
            "Pa rate: not known, one part refused (Pa run): undecided, it could be look further, look again or as expected (cut-offs for 4;0 to 11;11, provisional).",
            Sentence(text, "pa-rate")
        );
    }

    [Fact]
    public void The_short_form_says_what_is_not_part_of_it()
    {
        var text =
            Records
                .Good[..Records.Good.IndexOf("answers:", StringComparison.Ordinal)]
                .Replace("form: full", "form: short", StringComparison.Ordinal)
            + "answers:\n  tip-nose.rate.trial-1: 2\n  tip-corner.rate.right: 1\n  tip-corner.rate.left: 0\n";
        var outcomes = Explain(text).Outcomes.Select(o => o.Text);
        Assert.Equal(
            [
                "Tongue: 3 of 6, look again (cut-offs for 4;0 to 11;11, provisional).",
                "Not part of the short form: Pa rate.",
            ],
            outcomes
        );
    }

    [Fact]
    public void An_age_without_cut_offs_is_said() =>
        Assert.Equal(
            "Tongue: 7 of 8; there are no cut-offs at 2;6.",
            Sentence(Records.With("age-months: 51", "age-months: 30"), "tongue-total")
        );

    [Theory]
    [InlineData(
        "full-assessment",
        "Full assessment, within 2 weeks: applies, as the band of Pa rate is \"look further\" (provisional)."
    )]
    [InlineData(
        "complete",
        "Finish the untried parts, within 4 weeks: applies, as the band of Tongue is undecided."
    )]
    [InlineData(
        "screen-again",
        "Screen again, within 12 weeks: applies, as the band of Pa rate is \"look further\" (provisional)."
    )]
    [InlineData("no-action", "No action: does not apply.")]
    public void An_action_says_which_bands_bring_it(string action, string sentence)
    {
        var text = Slow(
            Records.With(
                "tip-chin.rate: 2\n  tip-corner.rate.right: 2",
                "tip-chin.rate: refused\n  tip-corner.rate.right: refused"
            )
        );
        Assert.Equal(sentence, Explain(text).Actions.Single(a => a.Name == action).Text);
    }

    [Fact]
    public void An_undecided_action_says_what_leaves_it_open_and_the_result_says_it_too()
    {
        var explanation = Explain(
            Records.With(
                "tip-chin.rate: 2\n  tip-corner.rate.right: 2",
                "tip-chin.rate: refused\n  tip-corner.rate.right: refused"
            )
        );
        Assert.Equal(
            "Full assessment, within 2 weeks: undecided, as the band of Tongue is undecided.",
            explanation.Actions[0].Text
        );
        Assert.Equal(
            [
                "Finish the untried parts, within 4 weeks.",
                "More severe and still undecided: Full assessment, within 2 weeks.",
            ],
            explanation.Result
        );
    }

    [Fact]
    public void The_clinician_may_confirm_the_rule()
    {
        var text =
            Records.Good
            + "overrides:\n  - action: no-action\n    reason: Seen twice.\n    role: clinician\n";
        Assert.Equal("The clinician (clinician) confirms it. Reason: Seen twice.", Explain(text).Result[1]);
    }

    [Fact]
    public void Published_and_small_pilot_cut_offs_are_called_what_they_are()
    {
        var row = new CutOffRow(new AgeRange(new Age(48), new Age(71)), [], Origin.None);
        var table = Tiny.Protocol.CutOffs[0];
        Assert.Equal(
            "cut-offs for 4;0 to 5;11, published: Invented 2026",
            Basis(BasisKind.Published, "Invented 2026", null, false)
        );
        Assert.Equal(
            "cut-offs for 4;0 to 5;11, provisional, own pilot of 24 children",
            Basis(BasisKind.Pilot, "x", 24, true)
        );
        Assert.Equal(
            "cut-offs for 4;0 to 5;11, own pilot of 180 children",
            Basis(BasisKind.Pilot, "x", 180, false)
        );
        Assert.Equal(
            "cut-offs for 4;0 to 5;11, own pilot of 180 children, misses 4 of 49, false alarms 9 of 131",
            Basis(BasisKind.Pilot, "x", 180, false, "cases 49", "misses 4 of 49", "false-alarms 9 of 131")
        );

        string Basis(
            BasisKind kind,
            string text,
            int? children,
            bool isProvisional,
            params string[] details
        ) =>
            BandSentences.Basis(
                table with
                {
                    Basis = new Basis(kind, text, children, null, details) { IsProvisional = isProvisional },
                },
                row
            );
    }

    [Theory]
    [InlineData("", "One sign was not looked for.")]
    [InlineData("observations:\n  tip-nose.overflow: looked\n", "One sign was looked for and not seen.")]
    [InlineData(
        "observations:\n  tip-nose.overflow: seen\n",
        "Seen: neck, jaw or hands join in (Tongue tip to the nose)."
    )]
    public void A_sign_was_seen_looked_for_or_not(string more, string sentence) =>
        Assert.Equal([sentence], Explain(Records.Good + more).Observations);

    [Fact]
    public void A_fraction_is_said_as_a_fraction()
    {
        var outcome = Tiny.TongueTotal with
        {
            Name = "third",
            Title = "Third",
            Step = null,
            Formula = "7 / 3",
            IsScore = false,
        };
        var program = new ProgramBuilder();
        program.Fraction(outcome, 14, 6);
        var scored = Scorer.Score(
            Tiny.Protocol with
            {
                Outcomes = [outcome],
                Program = program.Build(),
            },
            Records.Sitting(Records.Good) with
            {
                Fields = [51, 0],
            }
        );
        Assert.Equal(new Rational(7, 3), scored.Outcomes.Single().Low);
        Assert.Equal("Third: 7/3.", Explanation.Of(scored).Outcomes.Single().Text);
        using var json = JsonDocument.Parse(ExplanationJson.Write(Explanation.Of(scored)));
        Assert.Equal("7/3", json.RootElement.GetProperty("outcomes")[0].GetProperty("low").GetString());
    }

    [Property(MaxTest = 300)]
    public Property Every_sitting_is_explained_in_whole_sentences() =>
        Prop.ForAll(
            RecordWriterTests.Sittings().ToArbitrary(),
            record =>
            {
                var scored = Scorer.Score(Tiny.Protocol, record);
                var explanation = Explanation.Of(scored);
                var sentences = explanation
                    .Result.Concat(explanation.Outcomes.Select(o => o.Text))
                    .Concat(explanation.Actions.Select(a => a.Text))
                    .Concat(explanation.Untried.Select(u => u.Text))
                    .Concat(explanation.Observations)
                    .Concat(explanation.Remarks)
                    .Concat(explanation.Cautions)
                    .ToList();
                Assert.All(sentences, s => Assert.Matches("^[A-Z0-9].*[.]$", s));
                Assert.All(sentences, s => Assert.DoesNotMatch(" {2}| [,.;:]|\\(\\)|\\.\\.|, ,|: \\.", s));
                foreach (
                    var outcome in explanation.Outcomes.Where(o =>
                        o.Text.Contains("cut-offs for", StringComparison.Ordinal)
                    )
                )
                {
                    Assert.Contains("provisional", outcome.Text, StringComparison.Ordinal);
                }

                JsonDocument.Parse(ExplanationJson.Write(explanation)).Dispose();
                Assert.Equal(
                    ResultTable.Header(Tiny.Protocol).Count(c => c == ','),
                    ResultTable.Row(scored).Count(c => c == ',')
                );
            }
        );

    private static string Slow(string text) =>
        text.Replace("pa-run.syllables.trial-1: 20", "pa-run.syllables.trial-1: 10", StringComparison.Ordinal)
            .Replace("pa-run.syllables.trial-2: 22", "pa-run.syllables.trial-2: 11", StringComparison.Ordinal)
            .Replace(
                "pa-run.syllables.trial-3: 21",
                "pa-run.syllables.trial-3: 12",
                StringComparison.Ordinal
            );

    private static ScoredRecord Score(string text) => Scorer.Score(Tiny.Protocol, Records.Sitting(text));

    private static Explanation Explain(string text) => Explanation.Of(Score(text));

    private static string Sentence(string text, string outcome) =>
        Explain(text).Outcomes.Single(o => o.Name == outcome).Text;
}
