using ProtocolKit.Model;
using static ProtocolKit.Scoring.Tests.ProgramBuilder;

namespace ProtocolKit.Scoring.Tests;

/// <summary>What a value is said to be made from: answers of one part or several, signs, options.</summary>
public class ExplanationSourceTests
{
    private static readonly Outcome Calm = Value(
        "calm",
        "Calm",
        "if tip-nose.overflow is seen then 0 otherwise 1",
        true
    );
    private static readonly Outcome Shown = Value(
        "shown",
        "Shown",
        "if first-pair.choice is as-shown then 1 otherwise 0",
        true
    );
    private static readonly Outcome Ratio = Value("ratio", "Ratio", "tip-chin.rate / pa-run.run", false);
    private static readonly Outcome Both = Value("both", "Both", "lowest of (calm, shown)", true);

    private static readonly Protocol Protocol = Tiny.With(Lower, Calm, Shown, Ratio, Both);

    [Theory]
    [InlineData("", "calm", "Calm: not known, one sign not looked for.")]
    [InlineData(
        "observations:\n  tip-nose.overflow: looked\n",
        "calm",
        "Calm: 1 of 1. From one sign looked for, none seen."
    )]
    [InlineData(
        "observations:\n  tip-nose.overflow: seen\n",
        "calm",
        "Calm: 0 of 1. From one sign seen (neck, jaw or hands join in)."
    )]
    [InlineData("", "shown", "Shown: 1 of 1. From First pair: As shown.")]
    [InlineData(
        "",
        "ratio",
        "Ratio: 0.3. From Tongue tip to the chin: 2; Pa run: 5.8 s (second trial kept)."
    )]
    [InlineData(
        "observations:\n  tip-nose.overflow: looked\n",
        "both",
        "Both: 1 of 1. From First pair: As shown; one sign looked for, none seen."
    )]
    public void A_value_names_what_it_was_made_from(string more, string name, string sentence)
    {
        var reading = RecordReader.Read(Records.Good + more, "record.yaml", Protocol);
        var explanation = Explanation.Of(Scorer.Score(Protocol, reading.Record!));
        Assert.Equal(sentence, explanation.Outcomes.Single(o => o.Name == name).Text);
    }

    [Fact]
    public void An_answer_a_condition_asks_for_counts_as_untried()
    {
        var text = Records.With("first-pair.choice: as-shown", "first-pair.choice: refused");
        var scored = Scorer.Score(Protocol, RecordReader.Read(text, "record.yaml", Protocol).Record!);
        Assert.Equal(
            [("first-pair.choice", Model.State.Refused)],
            scored.Outcomes.Single(o => o.Outcome == Shown).Untried
        );
        Assert.Equal(
            [("first-pair.choice", Model.State.Refused)],
            scored.Outcomes.Single(o => o.Outcome == Both).Untried
        );
    }

    [Fact]
    public void A_default_that_rests_on_nothing_of_the_short_form_is_left_out()
    {
        var text =
            Records
                .Good[..Records.Good.IndexOf("answers:", StringComparison.Ordinal)]
                .Replace("form: full", "form: short", StringComparison.Ordinal)
            + "answers:\n  tip-nose.rate.trial-1: 2\n  tip-corner.rate.right: 1\n  tip-corner.rate.left: 0\n";
        var scored = Scorer.Score(Protocol, RecordReader.Read(text, "record.yaml", Protocol).Record!);
        Assert.Equal(
            "Not part of the short form: Pa rate, Shown and Ratio.",
            Explanation.Of(scored).Outcomes[^1].Text
        );
    }

    [Theory]
    [InlineData(
        "add up (a-b.rate, 2 * c.d.left) / 3 s",
        new[] { "add", "up", "a-b.rate", "2", "c.d.left", "3", "s" }
    )]
    [InlineData("", new string[0])]
    public void Words_of_a_formula(string formula, string[] words) =>
        Assert.Equal(words, FormulaNames.WordsOf(formula));

    private static Outcome Value(string name, string title, string formula, bool isScore) =>
        new(
            name,
            title,
            isScore,
            formula,
            Unit.One,
            isScore ? 1 : new Rational(1, 10),
            0,
            isScore ? 1 : 4,
            null,
            Origin.None
        );

    private static void Lower(ProgramBuilder program)
    {
        var sign = new FieldValue(program.Build().Observations.Single().Field, 0, 2);
        var (calmLow, calmHigh) = (
            If(Is(sign, 1), Number(1), Number(0)),
            If(Is(sign, 2), Number(0), Number(1))
        );
        program.Outcome(Calm, Number(0), calmLow, calmHigh);
        var (state, option, _) = program.Kept("first-pair.choice");
        var known = Is(state, 0);
        var shown = If(Is(option, 0), Number(1), Number(0));
        var (shownLow, shownHigh) = (If(known, shown, Number(0)), If(known, shown, Number(1)));
        program.Outcome(Shown, Number(0), shownLow, shownHigh);
        var (_, chin, _) = program.Kept("tip-chin.rate");
        var (_, run, _) = program.Kept("pa-run.run");
        var ratio = new FloorDivide(Plus(Times(chin, Number(200)), run), Times(run, Number(2)), 0, 40);
        program.Outcome(
            Ratio,
            If(Is(program.Kept("tip-chin.rate").State, 1), Number(1), Number(0)),
            ratio,
            ratio,
            "tip-chin.rate",
            "pa-run.run"
        );
        program.Outcome(
            Both,
            Number(0),
            new Least(calmLow, shownLow, 0, 1),
            new Least(calmHigh, shownHigh, 0, 1)
        );
    }
}
