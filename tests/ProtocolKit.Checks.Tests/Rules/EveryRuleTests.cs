using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;

namespace ProtocolKit.Checks.Tests;

/// <summary>The rules of meaning are numbered 1 to 24; each has tests whose names begin with its number, as in <c>R4_half_goes_up</c>.</summary>
public sealed partial class EveryRuleTests
{
    [Fact]
    public void Every_rule_has_a_test_named_after_it()
    {
        var found = Directory
            .EnumerateFiles(Path.Combine(Root(), "tests"), "*Tests.cs", SearchOption.AllDirectories)
            .Concat(
                Directory.EnumerateFiles(
                    Path.Combine(Root(), "tests"),
                    "*Properties.cs",
                    SearchOption.AllDirectories
                )
            )
            .Where(f => !f.Contains("/obj/", StringComparison.Ordinal))
            .SelectMany(f => TestName().Matches(File.ReadAllText(f)).Select(m => m.Value))
            .SelectMany(name =>
                Rule()
                    .Matches(name.Replace("_R", " R", StringComparison.Ordinal))
                    .Select(m => int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture))
            )
            .ToHashSet();
        var missing = Enumerable.Range(1, 24).Where(r => !found.Contains(r)).Select(r => $"R{r}");
        Assert.Empty(missing);
    }

    private static string Root([CallerFilePath] string file = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(file)!, "..", "..", ".."));

    /// <summary>A method that is a test: public, without parameters of its own mattering here.</summary>
    [GeneratedRegex(@"public (async )?(void|Task|Property) (R[0-9]+_\w*)")]
    private static partial Regex TestName();

    [GeneratedRegex(@"(?<![A-Za-z0-9])R([0-9]+)(?=_)")]
    private static partial Regex Rule();
}
