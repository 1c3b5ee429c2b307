using ProtocolKit.Language.Tests.Support;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Language.Tests.BadInput;

/// <summary>Odd texts that are right all the same: they compile, and what they say arrives unchanged.</summary>
public sealed class OddTextTests
{
    private const string Markup = "</script><b>&amp;{{ 7 * 7 }}{% include %}\\\" <!-- ' $(x) --";

    [Fact]
    public void Windows_line_ends_and_a_byte_order_mark_change_nothing()
    {
        var text = Repository
            .Read("library", "quillmere", "quillmere-screen.protocol")
            .ReplaceLineEndings("\n");
        var plain = Guarded.Compile(text, Modules.OfQuillmere).Protocol!;
        var windows = Guarded
            .Compile("\uFEFF" + text.Replace("\n", "\r\n", StringComparison.Ordinal), Modules.OfQuillmere)
            .Protocol!;
        Assert.Equal(plain.Fingerprints, windows.Fingerprints);
        Assert.Equal(
            plain.Tasks.SelectMany(t => t.Variants).SelectMany(v => v.Say),
            windows.Tasks.SelectMany(t => t.Variants).SelectMany(v => v.Say)
        );
        Assert.DoesNotContain(windows.Tasks, t => t.Title.Contains('\r', StringComparison.Ordinal));
    }

    [Fact]
    public void A_title_of_ten_thousand_characters_arrives_whole()
    {
        var title = string.Concat(Enumerable.Repeat("Long title. ", 833)) + "end!";
        Assert.Equal(10_000, title.Length);
        var protocol = Guarded
            .Compile(Tiny.Header().Replace("\"Tiny\"", $"\"{title}\"", StringComparison.Ordinal))
            .Protocol!;
        Assert.Equal(title, protocol.Title);
    }

    [Fact]
    public void A_text_of_a_megabyte_arrives_whole()
    {
        var text = new string('x', 1_000_000);
        Assert.Equal(
            text,
            Guarded.Compile(Tiny.Header() + $"section s \"{text}\"\n").Protocol!.Sections[0].Title
        );
    }

    /// <summary>What is code elsewhere is nothing but characters here; escaping is each output's own care.</summary>
    [Fact]
    public void Markup_and_template_code_stay_as_written_in_every_text()
    {
        var said = Markup.Replace("\\\"", "\"", StringComparison.Ordinal);
        var protocol = Tiny.Protocol(
            $"""
            protocol tiny
              title "{Markup}"
              edition "{Markup}"
              ages 4;0 to 5;11
              purpose "{Markup}"
              examiner "{Markup}"
              reference "{Markup}"
            material strip "{Markup}", "{Markup}"
            caution rest "{Markup}"
            observation drool "{Markup}", qualitative
            band low "{Markup}"
            scale two, higher is better
              1 "{Markup}" for example "{Markup}"
              0 "no"
            family f(text)
              show "{Markup}"
              say "{Markup}"
            section s "{Markup}"
              text "{Markup}"
              task a "{Markup}" f("{Markup}")
                needs strip
                go "{Markup}"
                practice "{Markup}"
                repeat "{Markup}"
                stop when "{Markup}"
                help "{Markup}"
                note "{Markup}"
                rate two
                yes-no moved "{Markup}", qualitative
                tick drool
                choice, qualitative
                  one "{Markup}"
                  two "{Markup}"
              task b each word ball "{Markup}", puppy
                rate two, qualitative
            score t "{Markup}" = 1 * a.rate
            cut-offs t
              ages         low  high
              4;0 to 5;11  0    1
              basis pilot "{Markup}", n 10, blind "{Markup}"
            actions
              refer "{Markup}"
                when t = 0
            claim "{Markup}" when t = 0 then actions include refer
            re-test t
              error 1 "{Markup}"
            case-history
              ask worry "{Markup}"
            consents
              consent exam "{Markup}"
            """
        );
        var task = protocol.Tasks.First(t => t.Name == "a");
        string?[] texts =
        [
            protocol.Title,
            protocol.Edition,
            protocol.Purpose,
            protocol.Examiner,
            protocol.References[0],
            protocol.Materials[0].Text,
            protocol.Materials[0].Amount,
            protocol.Cautions[0].Text,
            protocol.Observations[0].Text,
            protocol.Bands[0].Text,
            protocol.Scales[0].Levels[0].Text,
            protocol.Scales[0].Levels[0].Example,
            protocol.Sections[0].Title,
            protocol.Sections[0].Introduction,
            task.Title,
            task.Variants[0].Say[0],
            task.Variants[0].Show[0],
            task.Go,
            task.Practice,
            task.Repeat,
            task.StopWhen[0],
            task.Help[0].Text,
            task.Note,
            task.Responses[1].Question,
            task.Responses[2].Options[1].Text,
            protocol.Tasks.First(t => t.Name == "b").Variants[0].Text,
            protocol.Outcomes[0].Title,
            protocol.CutOffs[0].Basis.Text,
            protocol.Actions[0].Title,
            protocol.Claims[0].Text,
            protocol.ReTests[0].Basis,
            protocol.History[0].Text,
            protocol.Consents[0].Text,
        ];
        Assert.All(texts, t => Assert.Equal(said, t));
        Assert.Contains(said, protocol.CutOffs[0].Basis.Details[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Letters_refuse_placeholders_nobody_fills_whatever_surrounds_them()
    {
        Assert.Equal(["PK3011"], Tiny.Errors("letter caregiver\n  \"{{child}}\"\n"));
        Assert.Empty(Tiny.Errors("letter caregiver\n  \"</script> {child}\"\n"));
    }

    [Fact]
    public void Twenty_thousand_scores_in_a_chain_against_the_order_of_the_file_compile()
    {
        var chain = string.Concat(Enumerable.Range(0, 20_000).Select(i => $"score s{i} = 1 * s{i + 1}\n"));
        var compilation = Guarded.Compile(
            Tiny.Whole("task a item(three)\n" + chain + "score s20000 = 1 * a\n")
        );
        Assert.False(compilation.HasErrors, Tiny.Rendered(compilation));
        var sitting = new Sitting(compilation.Protocol!).Set("a", "2");
        Assert.Equal("2", Guarded.Run(() => sitting.Score()).Value("s0"));
    }

    [Theory]
    [InlineData("if a > 0 then x + {0} otherwise x", 24)]
    [InlineData("least(a - 1, {0}) * (a - b)", 24)]
    [InlineData("(a - b) * ({0})", 24)]
    [InlineData("if x / y > {0} then x / y otherwise a / y", 20)]
    [InlineData("most({0}, (x - y) / y)", 20)]
    public void Formulas_inside_formulas_are_worked_out_soon(string pattern, int depth)
    {
        var formula = "a";
        for (var i = 0; i < depth; i++)
        {
            formula = pattern.Replace("{0}", formula, StringComparison.Ordinal);
        }

        const string Tasks =
            "task a item(three)\ntask b item(three)\ntask p\n  count n 0 to 3, in taps\n  count m 1 to 3, in taps\n";
        var text = Tiny.Whole(
            Tasks + "measure x = p.n / (1 taps)\nmeasure y = p.m / (1 taps)\nmeasure t = " + formula + "\n"
        );
        var compilation = Guarded.Compile(text);
        if (compilation.Protocol is not { } protocol)
        {
            // Products of many factors may pass the limit of exact numbers; nothing else may be wrong.
            Assert.All(
                compilation.Diagnostics.Where(d => d.Severity == Diagnostics.Severity.Error),
                d => Assert.Equal("PK4007", d.Code)
            );
            return;
        }

        var sitting = new Sitting(protocol).Set("a", "1").Set("b", "2").Set("p.n", "refused").Set("p.m", "2");
        Assert.Equal(State.Known, Guarded.Run(() => sitting.Score()).Of("t").State);
    }
}
