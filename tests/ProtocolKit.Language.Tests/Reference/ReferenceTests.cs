using System.Text.RegularExpressions;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Parsing;
using ProtocolKit.Language.Tests.Support;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Language.Tests.Reference;

/// <summary>The reference is right: every sample on it compiles, and every line it lists is one the compiler knows.</summary>
public sealed partial class ReferenceTests
{
    public static TheoryData<string> Samples => [.. ReferencePage.Samples.Keys];

    private static IEnumerable<string> StatementWords => [.. Keywords.Statements, "translation"];

    public static TheoryData<string> Statements => [.. StatementWords];

    [Fact]
    public void Every_sample_is_found()
    {
        var fences = ReferencePage.All.Sum(p =>
            p.Text.Split('\n').Count(l => l.StartsWith("```protocol", StringComparison.Ordinal))
        );
        Assert.Equal(fences, ReferencePage.Samples.Count);
        Assert.InRange(fences, Keywords.Statements.Count, 200);
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void A_sample_compiles_under_the_prelude_or_by_itself(string sample)
    {
        var compilation = Tiny.Compile(ReferencePage.Samples[sample]);
        Assert.True(compilation.Protocol is not null, Tiny.Rendered(compilation));
    }

    /// <summary>Each statement the compiler knows has a page that names it and shows it; the first page leads there.</summary>
    [Theory]
    [MemberData(nameof(Statements))]
    public void Every_statement_has_a_page_that_shows_it(string word)
    {
        var page = ReferencePage.All.Single(p => p.Name == word);
        Assert.StartsWith($"# `{word}", page.Text, StringComparison.Ordinal);
        Assert.Matches($"(?m)^```[a-z]*\n([^`]*\n)? *{word}( |\n)", page.Text);
        Assert.Contains($"(reference/{word}.md)", ReferencePage.First.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_page_is_one_of_a_statement() =>
        Assert.Equal(
            StatementWords.Order(StringComparer.Ordinal),
            ReferencePage.All.Skip(1).Select(p => p.Name)
        );

    [Fact]
    public void A_translation_on_the_page_translates_the_sample_before_it()
    {
        var translations = ReferencePage.All.SelectMany(p => p.Translations).ToList();
        Assert.NotEmpty(translations);
        Assert.All(
            translations,
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
                .First.Text.Split('\n')
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
        var page = ReferencePage.All.Single(p => p.Name == "letter").Text;
        var sentence = page[page.IndexOf("Placeholders of letters and notes", StringComparison.Ordinal)..]
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
