using FsCheck.Xunit;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Formatting;
using ProtocolKit.Language.Parsing;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Grammar;

/// <summary>grammar/protocol.ebnf and the program agree: on the words, and on what can be read.</summary>
public sealed class GrammarTests
{
    private static readonly IReadOnlyDictionary<string, Part> Rules = Ebnf.Read(
        Repository.Read("grammar", "protocol.ebnf")
    );

    /// <summary>Rules that are lines or blocks at the margin; each is tried by itself.</summary>
    public static TheoryData<string> Statements =>
        [.. ((Choice)Rules["statement"]).Parts.Cast<Rule>().Select(r => r.Name)];

    [Fact]
    public void Every_rule_is_defined_and_used()
    {
        var used = Rules.Values.SelectMany(Ebnf.Within).OfType<Rule>().Select(r => r.Name).ToHashSet();
        Assert.Empty(used.Except(Rules.Keys));
        Assert.Equal(["file", "translation file"], Rules.Keys.Except(used));
    }

    [Fact]
    public void The_grammar_has_the_words_of_the_program_and_no_other()
    {
        var words = Rules
            .Values.SelectMany(Ebnf.Within)
            .OfType<Terminal>()
            .Select(t => t.Text)
            .Where(t => char.IsAsciiLetter(t[0]))
            .Distinct()
            .Order(StringComparer.Ordinal);
        Assert.Equal(Keywords.All, words);
    }

    /// <summary>What the program reads as a first word and the grammar doesn't begin a line with, or the other way round.</summary>
    [Theory]
    [MemberData(nameof(Statements))]
    public void Every_statement_of_the_grammar_can_be_read(string rule)
    {
        for (var seed = 0; seed < 60; seed++)
        {
            Reads(new Sentences(Rules, seed).Write(rule));
        }
    }

    [Property(MaxTest = 150)]
    public void Every_text_of_the_grammar_can_be_read(int seed) =>
        Reads(new Sentences(Rules, seed).Write("file"));

    /// <summary>The generator is one that can fail: a word out of place is found.</summary>
    [Fact]
    public void A_wrong_word_in_the_grammar_would_be_found()
    {
        var wrong = Ebnf.Read(
            "file = \"protocol\", name, end ; name = ? a name ? ; end = ? end ? ; other = \"titel\" ;"
        );
        Assert.NotEmpty(Unreadable(new Sentences(wrong, 1).Write("file") + "  titel \"T\"\n"));
    }

    [Property(MaxTest = 100)]
    public void A_text_of_the_grammar_keeps_its_findings_when_it_is_formatted(int seed)
    {
        var text = new Sentences(Rules, seed).Write("file");
        var formatted = Formatter.Of(new SourceText("t", text));
        Assert.Empty(formatted.UnreadLines);
        Assert.Equal(formatted.Text, Formatter.Format(new SourceText("t", formatted.Text)));
        Assert.Equal(Codes(text), Codes(formatted.Text));
    }

    private static IEnumerable<string> Codes(string text) =>
        Guarded.Compile(text).Diagnostics.Select(d => d.Code).Order(StringComparer.Ordinal);

    private static void Reads(string text) =>
        Assert.True(Unreadable(text) is { Count: 0 }, string.Join("\n", Unreadable(text)) + "\n" + text);

    /// <summary>Findings of the first two stages: characters, and the shape of lines.</summary>
    private static List<string> Unreadable(string text) =>
        [
            .. Guarded
                .Compile(text)
                .Diagnostics.Where(d => d.Message.Descriptor.Stage <= Stage.Line)
                .Select(DiagnosticText.Render),
        ];
}
