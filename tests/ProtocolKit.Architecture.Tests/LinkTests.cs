using System.Text.RegularExpressions;

namespace ProtocolKit.Architecture.Tests;

/// <summary>Links and paths in the pages lead somewhere.</summary>
public partial class LinkTests
{
    [Fact]
    public void Links_inside_the_repository_resolve()
    {
        var pages = Repository.Files.Where(f => f.EndsWith(".md", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(pages);
        Assert.Empty(pages.SelectMany(p => BrokenLinks(p, Repository.Read(p))));
    }

    /// <summary>Paths that the contributor guide writes as code, such as <c>src/…</c>, are files or folders.</summary>
    [Fact]
    public void Paths_named_in_the_contributor_guide_exist()
    {
        var named = CodeSpan()
            .Matches(WithoutFences(Repository.Read("DEVELOPERS.md")))
            .Select(m => m.Groups["code"].Value)
            .Where(c => TrackedPath().IsMatch(c))
            .ToList();
        Assert.True(named.Count > 20, "The guide names the places it speaks of.");
        Assert.All(named, p => Assert.True(IsThere(p.TrimEnd('/')), p));
    }

    [Theory]
    [InlineData("[a](no-such-file.md)", 1)]
    [InlineData("[a](LICENSE) and [b](LICENSE#nowhere)", 0)]
    [InlineData("[a](#missing)", 1)]
    [InlineData("# Some heading: here\n[a](#some-heading-here)", 0)]
    [InlineData("[a](https://example.org/x)", 0)]
    [InlineData("`[a](no-such-file.md)`", 0)]
    public void Broken_links_are_told_from_good_ones(string page, int broken) =>
        Assert.Equal(broken, BrokenLinks("README.md", page).Count());

    private static IEnumerable<string> BrokenLinks(string page, string text)
    {
        var prose = CodeSpan().Replace(WithoutFences(text), "");
        foreach (Match link in Link().Matches(prose))
        {
            var target = link.Groups["target"].Value;
            if (
                target.Contains("://", StringComparison.Ordinal)
                || target.StartsWith("mailto:", StringComparison.Ordinal)
            )
            {
                continue;
            }

            var (path, anchor) = target.Split('#') is [var before, var after]
                ? (before, after)
                : (target, "");
            var file = path.Length == 0 ? page : Resolve(page, path);
            var isPage = file.EndsWith(".md", StringComparison.Ordinal);
            if (path.Length > 0 && !IsThere(file))
            {
                yield return $"{page}: {target} leads nowhere";
            }
            else if (
                anchor.Length > 0
                && isPage
                && !Anchors(path.Length == 0 ? text : Repository.Read(file)).Contains(anchor)
            )
            {
                yield return $"{page}: {target} names no heading";
            }
        }
    }

    private static string Resolve(string page, string path)
    {
        var full = Path.GetFullPath(Path.Combine(Repository.Root, Path.GetDirectoryName(page)!, path));
        return Path.GetRelativePath(Repository.Root, full).Replace('\\', '/');
    }

    private static bool IsThere(string path) =>
        Repository.Files.Contains(path)
        || Repository.Files.Any(f => f.StartsWith(path.TrimEnd('/') + "/", StringComparison.Ordinal));

    /// <summary>Headings as common viewers turn them into anchors: lower case, words joined by hyphens, no other signs.</summary>
    private static HashSet<string> Anchors(string page) =>
        Heading()
            .Matches(WithoutFences(page))
            .Select(m => m.Groups["text"].Value.Trim().ToLowerInvariant())
            .Select(h => NotInAnchors().Replace(h, "").Replace(' ', '-'))
            .ToHashSet(StringComparer.Ordinal);

    private static string WithoutFences(string page) => Fence().Replace(page, "");

    [GeneratedRegex(@"\[[^\]]*\]\((?<target>[^)\s]+)\)")]
    private static partial Regex Link();

    [GeneratedRegex("`(?<code>[^`\n]+)`")]
    private static partial Regex CodeSpan();

    [GeneratedRegex("^```.*?^```", RegexOptions.Multiline | RegexOptions.Singleline)]
    private static partial Regex Fence();

    [GeneratedRegex("^#+ (?<text>.*)$", RegexOptions.Multiline)]
    private static partial Regex Heading();

    [GeneratedRegex(@"[^\p{L}\p{N}_\- ]")]
    private static partial Regex NotInAnchors();

    [GeneratedRegex(
        @"^(\.ci|\.config|src|tests|grammar|library|templates)(/[\w./-]*)?$|^[\w.]+\.(md|props|json|sln)$"
    )]
    private static partial Regex TrackedPath();
}
