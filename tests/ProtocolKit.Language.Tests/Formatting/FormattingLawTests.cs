using FsCheck.Xunit;
using ProtocolKit.Language.Formatting;
using ProtocolKit.Language.Tests.BadInput;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Formatting;

/// <summary>What holds for every text: formatting twice equals once, nothing said is changed, no comment is lost.</summary>
[Properties(Arbitrary = [typeof(TextGenerators)])]
public sealed class FormattingLawTests
{
    private static readonly string Library = Repository.PathOf("library");

    public static TheoryData<string> LibraryFiles =>
        [
            .. Directory
                .EnumerateFiles(Library, "*.protocol", SearchOption.AllDirectories)
                .Select(f => Path.GetRelativePath(Library, f))
                .Order(StringComparer.Ordinal),
        ];

    public static TheoryData<string> Cases => [.. CorpusCase.All.Select(c => c.Name)];

    [Theory]
    [MemberData(nameof(LibraryFiles))]
    public void The_library_is_kept_formatted(string file) =>
        Assert.Equal(
            [],
            Formatter.Of(new SourceText(file, File.ReadAllText(Path.Combine(Library, file)))).ChangedLines
        );

    [Fact]
    public void The_starter_is_kept_formatted() =>
        Assert.Equal(
            [],
            Formatter
                .Of(
                    new SourceText(
                        "starter",
                        Repository.Read("src", "ProtocolKit.Cli", "Starter", "starter.protocol")
                    )
                )
                .ChangedLines
        );

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_case_of_the_corpus_says_the_same_after_formatting(string name)
    {
        var corpus = CorpusCase.Of(name);
        var formatted = Once(corpus.Text);
        SaysTheSame(corpus.Compile(), (corpus with { Text = formatted }).Compile());
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void A_sample_of_the_reference_says_the_same_after_formatting(string sample)
    {
        var text = Tiny.Whole(ReferencePage.Samples[sample]);
        SaysTheSame(Tiny.Compile(text), Tiny.Compile(Once(text)));
    }

    public static TheoryData<string> Samples => [.. ReferencePage.Samples.Keys];

    [Property(MaxTest = 25)]
    public void The_example_in_any_layout_says_the_same_after_formatting(int seed)
    {
        var file = Repository.Read("library", "quillmere", "quillmere-screen.protocol");
        var messy = Mess.Of(file, seed);
        Assert.NotEqual(file, messy);
        var formatted = Once(messy);
        var before = Guarded.Compile(messy, Modules.OfQuillmere);
        var after = Guarded.Compile(formatted, Modules.OfQuillmere);
        Assert.NotNull(before.Protocol);
        SaysTheSame(before, after);
        Assert.Equal(Once(file), formatted);
    }

    [Property(MaxTest = 300)]
    public void A_changed_example_keeps_its_findings(MutatedExample example)
    {
        var before = Guarded.Compile(example.Text, Modules.OfQuillmere);
        SaysTheSame(before, Guarded.Compile(Once(example.Text), Modules.OfQuillmere));
    }

    [Property(MaxTest = 300)]
    public void Any_text_formatted_twice_is_formatted_once(RandomText text) => Once(text.Text);

    /// <summary>Comments put behind and between lines everywhere, with odd characters in them.</summary>
    [Property(MaxTest = 40)]
    public void No_character_of_a_comment_is_lost(int seed)
    {
        var random = new Random(seed);
        var lines = Repository
            .Read("library", "quillmere", "modules", "quillmere-cut-offs.protocol")
            .Split('\n');
        var texts = new List<string>();
        var written = new List<string>();
        foreach (var line in lines)
        {
            var comment = $"# {random.Next(1000)} “{(char)random.Next(0x21, 0x2FF)}\"  , {texts.Count}";
            var where = random.Next(4);
            if (where == 0)
            {
                written.Add(new string(' ', random.Next(7)) + comment);
            }

            written.Add(where == 1 ? line + new string(' ', random.Next(1, 4)) + comment : line);
            if (where < 2)
            {
                texts.Add(comment);
            }
        }

        var formatted = Once(string.Join('\n', written));
        var from = 0;
        foreach (var comment in texts)
        {
            var at = formatted.IndexOf(comment + "\n", from, StringComparison.Ordinal);
            Assert.True(at >= 0, comment);
            from = at + comment.Length;
        }
    }

    [Fact]
    public void Two_hundred_thousand_comments_are_laid_out_at_once()
    {
        var text = "task a\n" + string.Concat(Enumerable.Repeat("   # x\n  say \"y\"\n # z\n", 100_000));
        Guarded.Run(() => Formatter.Format(new SourceText("t", text)));
    }

    private static string Once(string text)
    {
        var once = Formatter.Of(new SourceText("t", text));
        var twice = Formatter.Of(new SourceText("t", once.Text));
        Assert.Equal(once.Text, twice.Text);
        Assert.Empty(twice.ChangedLines);
        Assert.Equal(once.Text == text, once.ChangedLines.Count == 0);
        return once.Text;
    }

    private static void SaysTheSame(Compilation before, Compilation after)
    {
        if (before.Protocol is { } protocol)
        {
            Assert.Equal(protocol.Fingerprints, after.Protocol?.Fingerprints);
            Assert.Equal(Dump.Of(protocol), Dump.Of(after.Protocol));
        }

        // Tabs are put right by formatting; every other finding is still there.
        Assert.Equal(Codes(before), Codes(after));
    }

    private static IEnumerable<string> Codes(Compilation compilation) =>
        compilation.Diagnostics.Select(d => d.Code).Where(c => c != "PK1001").Order(StringComparer.Ordinal);
}
