using System.Text.RegularExpressions;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Language.Tests.Reference;

/// <summary>The reference is right: every sample on it compiles, and every line it lists is one the compiler knows.</summary>
public sealed partial class ReferenceTests
{
    public static TheoryData<int> Lines => [.. ReferencePage.Blocks.Select(b => b.Line)];

    [Fact]
    public void Every_sample_is_found()
    {
        var fences = ReferencePage
            .Text.Split('\n')
            .Count(l => l.StartsWith("```protocol", StringComparison.Ordinal));
        Assert.Equal(fences, ReferencePage.Blocks.Count);
        Assert.InRange(fences, 8, 100);
    }

    [Theory]
    [MemberData(nameof(Lines))]
    public void A_sample_compiles_under_the_prelude_or_by_itself(int line)
    {
        var (_, text) = ReferencePage.Blocks.Single(b => b.Line == line);
        var compilation = Tiny.Compile(text);
        Assert.True(compilation.Protocol is not null, Tiny.Rendered(compilation));
    }

    [Fact]
    public void A_translation_on_the_page_translates_the_sample_before_it()
    {
        Assert.NotEmpty(ReferencePage.Translations);
        Assert.All(
            ReferencePage.Translations,
            t =>
            {
                var compilation = Tiny.Compile(t.Protocol + t.Translation);
                Assert.True(compilation.Protocol?.Translated is not null, Tiny.Rendered(compilation));
                Assert.DoesNotContain(compilation.Diagnostics, d => d.Severity != Severity.Note);
            }
        );
    }

    /// <summary>The prelude of these tests is the one the page states.</summary>
    [Fact]
    public void The_stated_prelude_is_the_one_used()
    {
        var stated = string.Join(
            ' ',
            ReferencePage
                .Text.Split('\n')
                .SkipWhile(l => !l.Contains("under a small prelude", StringComparison.Ordinal))
                .Take(2)
        );
        var levels = Regex
            .Matches(stated, "`(?<name>[a-z-]+)` (?<points>[0-9/]+)")
            .ToDictionary(m => m.Groups["name"].Value, m => m.Groups["points"].Value.Split('/'));
        var scales = Tiny.Protocol("").Scales;
        Assert.Equal(4, levels.Count);
        Assert.Equal(levels.Keys.Order(), scales.Select(s => s.Name).Order());
        Assert.All(scales, s => Assert.Equal(levels[s.Name], s.Levels.Select(l => l.Points.ToString())));
        Assert.Contains($"ages {FragmentPrelude.Ages}", stated, StringComparison.Ordinal);
        Assert.Contains("`family item(s)` with `rate s`", stated, StringComparison.Ordinal);
    }

    /// <summary>Each placeholder the page names for letters and notes can be used in a note.</summary>
    [Fact]
    public void Every_placeholder_of_the_page_is_known()
    {
        var sentence = ReferencePage
            .Text[ReferencePage.Text.IndexOf("Placeholders of letters and notes", StringComparison.Ordinal)..]
            .Split("\n\n")[0];
        var names = Placeholder()
            .Matches(sentence)
            .Select(m => m.Value)
            .Where(n => !n.Contains(" otherwise ", StringComparison.Ordinal))
            .Distinct()
            .ToList();
        Assert.Equal(13, names.Count);
        Assert.All(names, n => Assert.Empty(Tiny.Errors($"note team\n  \"{n}\"\n")));
    }

    [GeneratedRegex(@"\{[a-z ]+\}")]
    private static partial Regex Placeholder();

    /// <summary>Each line of a task's body in the page's table is one the compiler can read.</summary>
    [Theory]
    [InlineData("contact none")]
    [InlineData("needs strip")]
    [InlineData("say \"…\"")]
    [InlineData("show \"…\"")]
    [InlineData("go \"…\"")]
    [InlineData("practice \"…\"")]
    [InlineData("hold 3 s")]
    [InlineData("repeat \"…\"")]
    [InlineData("stop when \"…\"")]
    [InlineData("rate three")]
    [InlineData("count steps 0 to 60")]
    [InlineData("time run in s, step 0.1, 0.5 to 15")]
    [InlineData("quantity gap in mm, step 1, 0 to 70")]
    [InlineData("yes-no moved \"Question?\"")]
    [InlineData("choice\n    one \"Text\"\n    two \"Text\"")]
    [InlineData("choice which\n    one \"Text\"\n    two \"Text\"")]
    [InlineData("direction, weak side same")]
    [InlineData("direction turn, weak side opposite")]
    [InlineData("tick drool, qualitative")]
    [InlineData("help said again, shown in the mirror, guided once (contact face)")]
    [InlineData("note \"…\"")]
    [InlineData(
        "count steps 0 to 60, in taps, spans onsets, plausible 1 to 10, higher is better, qualitative"
    )]
    [InlineData("rate smooth on three, qualitative")]
    [InlineData("yes-no moved, qualitative")]
    public void Every_line_of_a_task_can_be_written(string line)
    {
        var text =
            $"material strip \"Paper strip\"\ncaution hands \"Clean hands.\"\n  for contact face\nobservation drool \"drools\"\ntask a\n  {line}\n";
        var errors = Tiny.Compile(text).Diagnostics.Where(d => d.Severity == Severity.Error);
        Assert.True(!errors.Any(), Tiny.Rendered(Tiny.Compile(text)));
    }
}
