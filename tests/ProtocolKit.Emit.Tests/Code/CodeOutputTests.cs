using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Code.CSharp;
using ProtocolKit.Emit.Code.JavaScript;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.TestPrograms;
using static ProtocolKit.TestPrograms.Expr;

namespace ProtocolKit.Emit.Tests.Code;

public class CodeOutputTests
{
    private static readonly Protocol Screen = SampleScreen.Protocol();

    public static TheoryData<CodeOutput> Outputs { get; } = [new CSharpOutput(), new JavaScriptOutput()];

    [Theory]
    [MemberData(nameof(Outputs))]
    public void The_head_names_protocol_edition_fingerprints_and_cautions(CodeOutput output)
    {
        var head = output
            .Text(Screen, TemplateSource.BuiltIn)[..2500]
            .ReplaceLineEndings(" ")
            .Replace(" // ", " ", StringComparison.Ordinal);

        Assert.Contains("Sample screen", head, StringComparison.Ordinal);
        Assert.Contains("edition 1.0", head, StringComparison.Ordinal);
        Assert.Contains(
            "form 00000000000000f0, administration 00000000000000a0, interpretation 0000000000000010",
            head,
            StringComparison.Ordinal
        );
        Assert.Contains("A screen makes no diagnosis", head, StringComparison.Ordinal);
        Assert.Contains(
            "Local rules and the judgement of a licensed practitioner come first.",
            head,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "Provisional cut-offs (awaiting the pilot): total, total in the short form.",
            head,
            StringComparison.Ordinal
        );
    }

    [Theory]
    [MemberData(nameof(Outputs))]
    public void Every_line_of_the_program_is_a_named_line_with_its_limits_and_note(CodeOutput output)
    {
        var statements = output
            .Text(Screen, TemplateSource.BuiltIn)
            .Split("return [", 2)[0]
            .Split("return new long[]", 2)[0]
            .Split(["\n  const ", "\n        long ", "\n        bool "], StringSplitOptions.None);
        var names = output.Names();

        foreach (var line in Screen.Program.Lines)
        {
            var start = names.Of(line.Name) + " = ";
            var emitted = Assert.Single(statements, s => s.StartsWith(start, StringComparison.Ordinal));
            if (line.Value is not null)
            {
                var limits = FormattableString.Invariant($"; // {line.Low}..{line.High}");
                Assert.Contains(limits, emitted, StringComparison.Ordinal);
            }

            Assert.Contains(line.Note, emitted, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Outputs))]
    public void The_same_protocol_gives_the_same_bytes(CodeOutput output)
    {
        var text = output.Text(Screen, TemplateSource.BuiltIn);

        Assert.Equal(text, output.Text(SampleScreen.Protocol(), TemplateSource.BuiltIn));
        Assert.DoesNotContain('\r', text);
        Assert.EndsWith("}\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain(text.Split('\n'), l => l.EndsWith(' '));
    }

    [Fact]
    public void Files_are_named_after_the_protocol()
    {
        Assert.Equal("sample-screen.mjs", new JavaScriptOutput().FileName(Screen));
        Assert.Equal("SampleScreenScoring.cs", new CSharpOutput().FileName(Screen));
    }

    [Theory]
    [MemberData(nameof(Outputs))]
    public void A_value_beyond_the_limit_on_the_way_is_refused_by_name(CodeOutput output)
    {
        var builder = new ProgramBuilder();
        var x = builder.Number("x", 0, ScoringProgram.Limit);
        builder.Line("back-within", Smaller(Plus(x, Const(1)), Const(5)));

        var fault = Assert.Throws<OutputRefusedException>(() =>
            output.Text(builder.Build(), TemplateSource.BuiltIn)
        );
        Assert.StartsWith(
            $"{output.Kind}: back-within may grow beyond 2^53 - 1",
            fault.Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_sum_whose_parts_pass_the_limit_before_others_bring_it_back_is_refused()
    {
        var builder = new ProgramBuilder();
        var x = builder.Number("x", ScoringProgram.Limit, ScoringProgram.Limit);
        var minus = builder.Line("minus", Minus(Const(0), x));
        builder.Line("sum", Sum((null, x), (null, x), (null, minus)));

        Assert.Throws<OutputRefusedException>(() =>
            new JavaScriptOutput().Text(builder.Build(), TemplateSource.BuiltIn)
        );
    }

    [Fact]
    public void More_lines_than_a_method_can_hold_are_refused()
    {
        var builder = new ProgramBuilder();
        for (var i = 0; i <= 40_000; i++)
        {
            builder.Line(FormattableString.Invariant($"l{i}"), Const(i));
        }

        var fault = Assert.Throws<OutputRefusedException>(() =>
            new CSharpOutput().Text(builder.Build(), TemplateSource.BuiltIn)
        );
        Assert.Contains("40001 lines", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_template_that_prints_what_no_writer_has_written_is_at_fault()
    {
        var templates = TemplateSource.Overriding(
            new Dictionary<string, string> { ["javascript/scoring.mjs"] = "{{ 'a' + 'b' }}" }
        );

        Assert.Throws<TemplateFaultException>(() => new JavaScriptOutput().Text(Screen, templates));
    }

    [Fact]
    public void A_template_beside_the_protocol_takes_the_place_of_ours()
    {
        var templates = TemplateSource.Overriding(
            new Dictionary<string, string>
            {
                ["javascript/scoring.mjs"] = "// {{ type_name }} {{ lines.size > 0 ? title : name }}",
            }
        );

        Assert.Equal(
            "// SampleScreenScoring \"Sample screen\"",
            new JavaScriptOutput().Text(Screen, templates)
        );
    }

    [Fact]
    public void Brackets_stand_where_they_change_the_value_and_nowhere_else()
    {
        var builder = new ProgramBuilder();
        var x = builder.Line("x", builder.Number("p", 0, 9));
        var y = builder.Line("y", builder.Number("q", 0, 9));
        builder.Line("left", Minus(Minus(x, y), x));
        builder.Line("right", Minus(x, Minus(y, x)));
        builder.Line("product", Times(Plus(x, y), Times(x, y)));
        builder.Line("not", No(Or(Same(x, y), And(AtMost(x, y), No(AtMost(y, Const(3)))))));

        var code = new JavaScriptOutput().Text(builder.Build(), TemplateSource.BuiltIn);

        Assert.Contains("const left = x - y - x;", code, StringComparison.Ordinal);
        Assert.Contains("const right = x - (y - x);", code, StringComparison.Ordinal);
        Assert.Contains("const product = (x + y) * (x * y);", code, StringComparison.Ordinal);
        Assert.Contains("const not = !(x === y || (x <= y && y > 3));", code, StringComparison.Ordinal);
    }
}
