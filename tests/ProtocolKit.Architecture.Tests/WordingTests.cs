using System.Text.RegularExpressions;

namespace ProtocolKit.Architecture.Tests;

/// <summary>
/// Tracked files speak of the project only: no path of one machine, no host of a package registry, nothing about how or
/// by whom the text came about. The patterns are put together from halves so that this file does not match itself.
/// </summary>
public class WordingTests
{
    private static readonly (string What, Regex Pattern)[] Forbidden =
    [
        (
            "a path of one machine",
            Make(
                "/wo" + @"rk/|/ro" + @"ot(/|\b)|/tm" + @"p/|/ho" + @"me/\w|/Us" + @"ers/\w|[A-Z]:\\Us" + "ers"
            )
        ),
        (
            "a host of a package registry",
            Make(@"api\.nu" + @"get\.org|registry\.np" + @"mjs|pypi\.o" + @"rg|proxy\.gol" + "ang")
        ),
        ("a mirror or proxy address", Make(@"https?://(local" + @"host|\d+\.\d+\.\d+\.\d+)[:/]")),
        (
            "who wrote it",
            Make(
                @"\bassis"
                    + @"tants?\b|\bcha"
                    + @"tbot|\blanguage mo"
                    + @"dels?\b|\bL"
                    + @"LMs?\b|\bA"
                    + @"I\b|co-auth"
                    + "ored-by"
            )
        ),
        ("how it was made", Make(@"\biss" + @"ue #?\d+\b|\bmile" + @"stone #?\d+\b")),
    ];

    [Fact]
    public void Tracked_files_hold_nothing_that_does_not_belong_to_the_project()
    {
        var found = Repository.Files.Where(IsText).SelectMany(f => Findings(f, Repository.Read(f)));
        Assert.Empty(found);
    }

    [Fact]
    public void File_names_hold_nothing_of_it_either() =>
        Assert.Empty(Repository.Files.SelectMany(f => Findings("the name of " + f, f)));

    [Theory]
    [InlineData("see /wo", "rk/main/README.md")]
    [InlineData("written to /tm", "p/out")]
    [InlineData("C:\\Us", "ers\\somebody")]
    [InlineData("https://api.nu", "get.org/v3/index.json")]
    [InlineData("http://local", "host:8080/x")]
    [InlineData("by an A", "I")]
    [InlineData("closes iss", "ue 2")]
    public void Each_pattern_finds_what_it_is_for(string first, string second) =>
        Assert.Single(Findings("a text", $"One line.\n{first}{second}\n"));

    [Theory]
    [InlineData("the model's types, an issue of the trade, rain, homework/")]
    [InlineData("work/day and a mail to said@example.org")]
    public void Ordinary_words_pass(string text) => Assert.Empty(Findings("a text", text));

    private static IEnumerable<string> Findings(string name, string text) =>
        Forbidden
            .SelectMany(f => f.Pattern.Matches(text).Select(m => (f.What, Match: m)))
            .Select(f =>
                $"{name}, line {1 + text.AsSpan(0, f.Match.Index).Count('\n')}: {f.Match.Value} ({f.What})"
            );

    private static bool IsText(string file) =>
        Path.GetExtension(file) is not (".pdf" or ".png" or ".woff2" or ".parquet" or ".ico");

    private static Regex Make(string pattern) =>
        new(pattern, RegexOptions.CultureInvariant, TimeSpan.FromSeconds(5));
}
