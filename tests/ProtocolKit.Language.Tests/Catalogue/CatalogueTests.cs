using System.Text.RegularExpressions;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Catalogue;

/// <summary>Codes, explanations and examples of the catalogue hold together: an example shows what its entry says.</summary>
public sealed partial class CatalogueTests
{
    public static TheoryData<string> Codes => [.. Diagnostics.Catalogue.All.Select(d => d.Code)];

    [Fact]
    public void Codes_are_unique_and_well_formed()
    {
        var all = Diagnostics.Catalogue.All;
        Assert.NotEmpty(all);
        Assert.Equal(all.Count, all.Select(d => d.Code).Distinct().Count());
        Assert.All(all, d => Assert.Matches("^PK[1-6][0-9]{3}$", d.Code));
        Assert.All(all, d => Assert.True(Enum.IsDefined(d.Stage)));
        Assert.All(all, d => Assert.EndsWith(".", d.Explanation));
        Assert.All(all, d => Assert.Same(d, Diagnostics.Catalogue.Find(d.Code.ToLowerInvariant())));
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void The_wrong_example_earns_this_entry_and_no_other_mistake(string code)
    {
        var entry = Entry(code);
        var compilation = entry.Wrong.Length == 0 ? WithoutText(code) : Compiled(entry, entry.Wrong);
        Assert.Contains(compilation.Diagnostics, d => d.Code == code);
        Assert.All(
            compilation.Diagnostics.Where(d => d.Severity == Severity.Error),
            d => Assert.Equal(code, d.Code)
        );
        Assert.All(compilation.Diagnostics, d => Assert.Same(Entry(d.Code), d.Message.Descriptor));
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void The_right_example_compiles_without_it(string code)
    {
        var compilation = Compiled(Entry(code), Entry(code).Right);
        Assert.False(compilation.HasErrors, Tiny.Rendered(compilation));
        Assert.DoesNotContain(compilation.Diagnostics, d => d.Code == code);
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void Explanations_use_the_words_of_the_clinic(string code)
    {
        var entry = Entry(code);
        Assert.DoesNotMatch(WordsOfProgrammers(), entry.Title + " " + entry.Explanation);
    }

    /// <summary>Also for the corpus, where every kind of message is met with real words in it.</summary>
    [Fact]
    public void No_message_uses_words_of_programmers()
    {
        var said = Diagnostics
            .Catalogue.All.Where(d => d.Wrong.Length > 0)
            .SelectMany(d => Compiled(d, d.Wrong).Diagnostics)
            .Select(d => d.Message.Text + " " + d.Message.Fix)
            .Concat(
                Directory
                    .EnumerateFiles(
                        Repository.PathOf("tests", "corpus"),
                        "expected.txt",
                        SearchOption.AllDirectories
                    )
                    .Select(File.ReadAllText)
            )
            .ToList();
        Assert.All(said, text => Assert.DoesNotMatch(WordsOfProgrammers(), text));
    }

    /// <summary>A code nobody shows in the corpus or here would be a code nobody has seen.</summary>
    [Fact]
    public void Every_code_of_an_error_is_met_in_the_corpus()
    {
        var met = string.Concat(
            Directory
                .EnumerateFiles(
                    Repository.PathOf("tests", "corpus"),
                    "expected.txt",
                    SearchOption.AllDirectories
                )
                .Select(File.ReadAllText)
        );
        var missing = Diagnostics
            .Catalogue.All.Select(d => d.Code)
            .Where(c => !met.Contains(c + ":", StringComparison.Ordinal));

        // A file of five million characters is made in a test of its own.
        Assert.Equal(["PK1010"], missing);
    }

    private static Compilation Compiled(Descriptor entry, string text) =>
        entry.Stage == Stage.Proof ? Tiny.Proved(Tiny.Compile(text)) : Tiny.Compile(text);

    private static Descriptor Entry(string code) => Diagnostics.Catalogue.Find(code)!;

    /// <summary>What one short text can't show: several files, or a very large one.</summary>
    private static Compilation WithoutText(string code)
    {
        var header = Tiny.Header();
        var (text, modules) = code switch
        {
            "PK1010" => (new string('#', 5_000_001), new Dictionary<string, string>()),
            "PK3008" => (
                header + "use first\n",
                new Dictionary<string, string>
                {
                    ["first"] = "module first\nuse second\n",
                    ["second"] = "module second\nuse first\n",
                }
            ),
            "PK3009" => (header + "use other\n", new Dictionary<string, string> { ["other"] = header }),
            _ => throw new InvalidOperationException($"{code} needs an example."),
        };
        return Compilation.Of(new SourceText("tiny.protocol", text), new Modules(modules));
    }

    [GeneratedRegex(
        @"\b(token|identifier|parse|parser|expression|null|syntax|string|boolean|integer)s?\b",
        RegexOptions.IgnoreCase
    )]
    private static partial Regex WordsOfProgrammers();
}
