using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Verification.Tests;

/// <summary>Emitted code with a mistake put in: verify has to find it and show a record that shows it.</summary>
public class DifferenceTests
{
    private static readonly Protocol Screen = SampleScreen.Protocol();

    [Theory]
    [InlineData("javascript-jint")]
    [InlineData("javascript-node")]
    public void A_quotient_that_is_not_rounded_down_is_found(string target)
    {
        var report = Verify(target, "Math.floor(", "(");

        var difference = AssertDiffers(report);
        Assert.Equal("line swap-rate.low", difference.What);
        Assert.Contains('.', difference.Actual);
    }

    [Fact]
    public void A_quotient_rounded_up_is_found_in_csharp()
    {
        var report = Verify(
            "csharp",
            "(200L * swap__count + swap__time) /",
            "(200L * swap__count + 2L * swap__time) /"
        );

        Assert.Equal("line swap-rate.low", AssertDiffers(report).What);
    }

    [Theory]
    [InlineData("csharp", "kiss__low + corners__low", "kiss__low + 1L * corners__low * corners__low / 4L")]
    [InlineData("javascript-jint", "kiss__low + corners__low", "kiss__low + Math.min(3, corners__low)")]
    [InlineData("javascript-node", "age <= 59", "age <= 58")]
    [InlineData("csharp", "outside || ", "")]
    [InlineData("python", "kiss__low + corners__low", "kiss__low + min(3, corners__low)")]
    [InlineData("python", "outside or ", "")]
    [InlineData("javascript-jint", "kiss__groping === 2", "kiss__groping >= 1")]
    public void A_changed_line_is_found(string target, string right, string wrong) =>
        AssertDiffers(Verify(target, right, wrong));

    [Theory]
    [InlineData("csharp", "value == \"seen\" ? 2", "value == \"seen\" ? 1")]
    [InlineData("javascript-jint", "value === \"looked\" ? 1", "value === \"looked\" ? 2")]
    [InlineData("javascript-node", "options.indexOf(value)", "options.lastIndexOf(value) - 1")]
    [InlineData("python", "fields[before.value] < answer.below", "fields[before.value] <= answer.below")]
    [InlineData("python", "_CODES[value]", "min(7, _CODES[value])")]
    [InlineData(
        "javascript-jint",
        "fields[before.value] < answer.below",
        "fields[before.value] <= answer.below"
    )]
    [InlineData(
        "csharp",
        "fields[answer.State] = isOff ? 1 : state",
        "fields[answer.State] = state == 8 ? 7 : state"
    )]
    public void A_record_read_wrongly_is_found(string target, string right, string wrong)
    {
        var difference = AssertDiffers(Verify(target, right, wrong));
        Assert.True(
            difference.What.StartsWith("field ", StringComparison.Ordinal)
                || difference.What.StartsWith("output ", StringComparison.Ordinal)
                || difference.Actual.Length > 0
        );
    }

    [Theory]
    [InlineData("csharp", "\"undecided\", \"not applicable\"", "\"not applicable\", \"undecided\"")]
    [InlineData("javascript-jint", "\"applies not\" : \"undecided\"", "\"undecided\" : \"undecided\"")]
    [InlineData("javascript-node", "scale: [1, 10]", "scale: [1, 100]")]
    [InlineData("python", "* above / (below *", "* above // (below *")]
    [InlineData("python", "if lines[_KEPT[key]] >= 2", "if lines[_KEPT[key]] >= 3")]
    [InlineData("javascript-jint", ">= 2)\n    .map", ">= 3)\n    .map")]
    [InlineData("csharp", "lines[headline] >= 0 ?", "lines[headline] > 0 ?")]
    public void A_wrong_output_is_found(string target, string right, string wrong)
    {
        var what = AssertDiffers(Verify(target, right, wrong)).What;
        Assert.DoesNotContain(
            "line ",
            what.Replace("headline", "", StringComparison.Ordinal),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void The_smallest_record_says_in_plain_words_what_shows_the_difference()
    {
        // Right for every sheet but those with a 1 on the left corner.
        var report = Verify(
            "javascript-jint",
            "corner__left__low = corner__rate__left",
            "corner__left__low = corner__rate__left === 1 ? 0 : corner__rate__left"
        );

        var difference = AssertDiffers(report);
        Assert.Equal(["corner.rate.left: 1 (not 2)"], difference.Answers);
        Assert.Equal("line corner.left.low", difference.What);
        Assert.Equal(("1", "0"), (difference.Expected, difference.Actual));
        Assert.EndsWith(
            """
            javascript-jint differs at line corner.left.low: it says 0, the reference 1.
            The smallest record found that shows it: age 4;0, full form, flawless but for
              corner.rate.left: 1 (not 2)

            """.ReplaceLineEndings("\n"),
            VerifyText.Write(report),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Two_answers_that_only_together_show_a_difference_are_both_named()
    {
        var report = Verify(
            "javascript-jint",
            "total__high = kiss__high + corners__high",
            "total__high = kiss__high + corners__high - (swap__swaps < 50 && look__gap < 0 ? 1 : 0)"
        );

        var difference = AssertDiffers(report);
        Assert.Equal(["swap.swaps: 49 (not 60)", "look.gap: -0.5 (not 70)"], difference.Answers);
    }

    [Fact]
    public void Code_that_fails_differs_and_does_not_end_the_run_with_a_fault()
    {
        var report = Verify(
            "javascript-jint",
            "const young = age <= 59",
            "const young = age <= 59 || (() => { throw new Error('broken'); })()"
        );

        var difference = AssertDiffers(report);
        Assert.Equal("the run", difference.What);
        Assert.Contains("broken", difference.Actual, StringComparison.Ordinal);
        Assert.Equal(60, difference.Record.AgeMonths);
    }

    /// <summary>Zero times a negative number is -0 in JavaScript, which prints and compares otherwise than 0.</summary>
    [Theory]
    [InlineData("javascript-jint")]
    [InlineData("javascript-node")]
    public void A_minus_before_a_zero_is_found(string target)
    {
        var builder = new ProgramBuilder();
        var (x, y) = (builder.Number("x", 0, 3), builder.Number("y", -3, 3));
        builder.Line("product", Expr.Times(x, y));
        var protocol = builder.Build();
        string Emit(CodeOutput output) => output.Text(protocol, TemplateSource.BuiltIn);
        var options = new VerifyOptions { Records = 50, Targets = [target] };

        Assert.True(Verifier.Run(protocol, options with { Code = Emit }).AllAgreed);
        var report = Verifier.Run(
            protocol,
            options with
            {
                Code = o => Replace(Emit(o), "x__q * y__q + 0", "x__q * y__q"),
            }
        );

        Assert.Equal(("0", "-0"), (AssertDiffers(report).Expected, AssertDiffers(report).Actual));
    }

    [Fact]
    public void All_targets_stop_at_the_first_difference_and_the_others_are_not_said_to_agree()
    {
        var report = Verifier.Run(
            Screen,
            new VerifyOptions
            {
                Records = 50,
                Targets = ["csharp", "javascript", "python"],
                Code = output =>
                    Replace(
                        output.Text(Screen, TemplateSource.BuiltIn),
                        "kiss__low + corners__low",
                        "kiss__low"
                    ),
            }
        );

        Assert.Equal(
            [Agreement.Differs, .. Enumerable.Repeat(Agreement.NotRun, 3)],
            report.Targets.Select(t => t.Agreement)
        );
        Assert.False(report.AllAgreed);
        Assert.False(report.NothingWrong);
        Assert.True(report.AnyDiffers);
    }

    [Theory]
    [InlineData("csharp")]
    [InlineData("javascript-jint")]
    [InlineData("javascript-node")]
    [InlineData("python")]
    public void Code_that_is_no_code_is_not_run(string target)
    {
        var report = Verifier.Run(
            Screen,
            new VerifyOptions
            {
                Records = 10,
                Targets = [target],
                Code = _ => "this is (no code",
            }
        );

        var only = Assert.Single(report.Targets);
        Assert.Equal((Agreement.NotRun, 0), (only.Agreement, only.Records));
        Assert.NotEmpty(only.Reason);
        Assert.False(report.AllAgreed);
        Assert.False(report.NothingWrong);
    }

    [Fact]
    public void Without_node_its_target_is_not_run_and_says_so()
    {
        var report = Verifier.Run(
            Screen,
            new VerifyOptions
            {
                Records = 10,
                Targets = ["javascript"],
                Programs = new Dictionary<string, string> { ["node"] = "no-such-program-here" },
            }
        );

        Assert.Equal([Agreement.Agreed, Agreement.NotRun], report.Targets.Select(t => t.Agreement));
        Assert.True(report.NothingWrong);
        Assert.Contains("not run: Node isn't installed", VerifyText.Write(report), StringComparison.Ordinal);
        Assert.False(report.AllAgreed);
    }

    [Fact]
    public void Where_nothing_could_run_nothing_is_right()
    {
        var report = Verifier.Run(
            Screen,
            new VerifyOptions
            {
                Targets = ["javascript-node"],
                Programs = new Dictionary<string, string> { ["node"] = "no-such-program-here" },
            }
        );

        Assert.False(report.NothingWrong);
    }

    [Fact]
    public void An_unknown_target_is_refused_with_the_list()
    {
        var fault = Assert.Throws<ArgumentException>(() =>
            Verifier.Run(Screen, new VerifyOptions { Targets = ["pascal"] })
        );
        Assert.Contains("csharp, javascript-jint, javascript-node", fault.Message, StringComparison.Ordinal);
    }

    private static VerifyReport Verify(string target, string right, string wrong) =>
        Verifier.Run(
            Screen,
            new VerifyOptions
            {
                Records = 500,
                Targets = [target],
                Code = output => Replace(output.Text(Screen, TemplateSource.BuiltIn), right, wrong),
            }
        );

    private static string Replace(string code, string right, string wrong)
    {
        Assert.Contains(right, code, StringComparison.Ordinal);
        return code.Replace(right, wrong, StringComparison.Ordinal);
    }

    private static Difference AssertDiffers(VerifyReport report)
    {
        var only = Assert.Single(report.Targets);
        Assert.True(only.Agreement == Agreement.Differs, VerifyText.Write(report));
        return only.Difference!;
    }
}
