using ProtocolKit.TestPrograms;

namespace ProtocolKit.Verification.Tests;

/// <summary>Emitted code lists all that is wrong with a record, in the same words in every language, and throws nothing.</summary>
public class BadRecordTests
{
    private const string Codes =
        "refused, not-understood, not-possible, stopped, out-of-time, spoiled, not-planned";

    private static readonly EmittedCode Code = new(SampleScreen.Protocol());

    [Fact]
    public void A_good_record_has_no_errors() => Assert.Empty(Errors(_ => { }));

    [Theory]
    [InlineData("kiss.rate.trial-1", 3, "3 is not one of 0, 1, 2.")]
    [InlineData("kiss.rate.trial-1", 1.5, "1.5 is not one of 0, 1, 2.")]
    [InlineData("kiss.rate.trial-1", "2", "\"2\" is not one of 0, 1, 2.")]
    [InlineData("swap.swaps", 61, "61 is not a number from 0 to 60.")]
    [InlineData("swap.swaps", -1, "-1 is not a number from 0 to 60.")]
    [InlineData("swap.swaps", 3.5, "3.5 is not a whole number of steps of 1.")]
    [InlineData("swap.run", 0.4, "0.4 is not a number from 0.5 to 15.")]
    [InlineData("swap.run", 3.45, "3.45 is not a whole number of steps of 0.1.")]
    [InlineData("swap.run", "fast", "\"fast\" is not a number from 0.5 to 15.")]
    [InlineData("look.gap", 3.3, "3.3 is not a whole number of steps of 0.5.")]
    [InlineData("look.choice", "shut", "\"shut\" is not one of closed, open, changes.")]
    [InlineData("look.choice", 1, "1 is not one of closed, open, changes.")]
    [InlineData("look.direction", "up", "\"up\" is not one of middle, right, left.")]
    [InlineData("look.asks", "", "there is no answer. Give one, or say why not: " + Codes + ".")]
    [InlineData("look.asks", " ", "there is no answer. Give one, or say why not: " + Codes + ".")]
    [InlineData("look.asks", null, "there is no answer. Give one, or say why not: " + Codes + ".")]
    public void A_wrong_answer_is_named_with_what_it_may_be(string key, object? value, string problem) =>
        Assert.Equal([$"{key}: {problem}"], Errors(r => r.Answers[key] = value));

    [Fact]
    public void An_answer_that_is_missing_is_named() =>
        Assert.Equal(
            [$"corner.rate.left: there is no answer. Give one, or say why not: {Codes}."],
            Errors(r => r.Answers.Remove("corner.rate.left"))
        );

    [Fact]
    public void A_further_trial_is_missed_only_after_a_low_first() =>
        Assert.Equal(
            [$"kiss.rate.trial-2: there is no answer. Give one, or say why not: {Codes}."],
            Errors(r => r.Answers["kiss.rate.trial-1"] = 1)
        );

    [Fact]
    public void A_further_trial_that_was_needless_or_follows_an_untried_one_is_no_error()
    {
        Assert.Empty(Errors(r => r.Answers["kiss.rate.trial-2"] = 1));
        Assert.Empty(Errors(r => r.Answers["kiss.rate.trial-1"] = "refused"));
        Assert.Empty(
            Errors(r =>
            {
                r.Answers["kiss.rate.trial-1"] = "refused";
                r.Answers["kiss.rate.trial-2"] = 1;
            })
        );
    }

    [Fact]
    public void Of_a_wrong_first_trial_nothing_follows_for_the_second() =>
        Assert.Equal(
            ["kiss.rate.trial-1: 7 is not one of 0, 1, 2."],
            Errors(r => r.Answers["kiss.rate.trial-1"] = 7)
        );

    [Fact]
    public void Tasks_off_the_short_form_may_be_left_out_or_not_planned_and_nothing_else()
    {
        Assert.Empty(
            Errors(r =>
            {
                r.Form = "short";
                r.Answers.Remove("corner.rate.left");
                r.Answers["corner.rate.right"] = "not-planned";
            })
        );
        Assert.Equal(
            [
                "corner.rate.right: this task is not part of the short form; leave it out.",
                "corner.rate.left: this task is not part of the short form; leave it out.",
            ],
            Errors(r =>
            {
                r.Form = "short";
                r.Answers["corner.rate.left"] = "refused";
            })
        );
    }

    [Fact]
    public void All_that_is_wrong_is_listed_at_once()
    {
        var errors = Errors(r =>
        {
            r.Age = -1;
            r.Form = "long";
            r.Answers["kiss.rate"] = 2;
            r.Answers["name"] = "Somebody";
            r.Answers["__proto__"] = "x";
            r.Answers["constructor"] = "x";
            r.Answers["swap.run"] = 99;
            r.Observations["kiss.groping"] = "maybe";
            r.Observations["kiss.tremor"] = "seen";
        });

        Assert.Equal(
            [
                "ageMonths: give the age in completed months, a whole number from 0 to 2399.",
                "form: say \"full\" or \"short\".",
                "kiss.groping: \"maybe\" is neither \"seen\" nor \"looked\".",
                "There is no observation named \"kiss.tremor\" in this protocol.",
                "swap.run: 99 is not a number from 0.5 to 15.",
                "There is no answer named \"kiss.rate\" in this protocol.",
                "There is no answer named \"name\" in this protocol.",
                "There is no answer named \"__proto__\" in this protocol.",
                "There is no answer named \"constructor\" in this protocol.",
            ],
            errors
        );
    }

    [Theory]
    [InlineData("undefined")]
    [InlineData("null")]
    [InlineData("42")]
    [InlineData("'text'")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("{ ageMonths: NaN, form: {}, answers: [], observations: 3 }")]
    [InlineData("{ ageMonths: 5e300, form: null, answers: 'x', observations: null }")]
    [InlineData("{ ageMonths: 60.5, form: 'full', answers: { 'swap.run': NaN }, observations: {} }")]
    [InlineData(
        "{ ageMonths: 60n, form: 'full', answers: { 'swap.run': {}, 'look.asks': Symbol.iterator }, observations: {} }"
    )]
    [InlineData(
        "{ ageMonths: 60, form: 'full', answers: { 'swap.run': -Infinity, 'look.asks': true, 'kiss.rate.trial-1': [2] }, observations: { 'kiss.groping': 1 } }"
    )]
    [InlineData("Object.create(null)")]
    public void Anything_at_all_gives_errors_and_throws_nothing(string record) =>
        Assert.NotEmpty(Code.JavaScriptErrors(record));

    [Fact]
    public void Odd_values_give_errors_in_csharp_too()
    {
        object[] odd =
        [
            double.NaN,
            double.PositiveInfinity,
            1e300,
            decimal.MaxValue,
            true,
            'x',
            new object(),
            DateTime.MaxValue,
            long.MaxValue,
            float.Epsilon,
        ];
        foreach (var value in odd)
        {
            var record = new Draft();
            record.Answers["swap.run"] = value;
            record.Answers["kiss.rate.trial-1"] = value;
            record.Answers["look.asks"] = value;
            Assert.Equal(
                3,
                Code.CSharpErrors(record.Age, record.Form, record.Answers, record.Observations).Count
            );
        }

        Assert.NotEmpty(Code.CSharpErrors(60, null, null!, null!));
    }

    /// <summary>Both languages' errors, which must be the same.</summary>
    private static IReadOnlyList<string> Errors(Action<Draft> change)
    {
        var record = new Draft();
        change(record);
        var errors = Code.CSharpErrors(record.Age, record.Form, record.Answers, record.Observations);
        var script = EmittedCode.AsJavaScript(record.Age, record.Form, record.Answers, record.Observations);
        Assert.Equal(errors, Code.JavaScriptErrors(script));
        return errors;
    }

    private sealed class Draft
    {
        public int Age { get; set; } = 60;

        public string? Form { get; set; } = "full";

        public Dictionary<string, object?> Answers { get; } =
            new()
            {
                ["kiss.rate.trial-1"] = 2,
                ["corner.rate.right"] = 1,
                ["corner.rate.left"] = "refused",
                ["swap.swaps"] = 12,
                ["swap.run"] = 4.7,
                ["look.choice"] = "open",
                ["look.direction"] = "left",
                ["look.asks"] = "no",
                ["look.gap"] = -4.5,
            };

        public Dictionary<string, string?> Observations { get; } = new() { ["kiss.groping"] = "looked" };
    }
}
