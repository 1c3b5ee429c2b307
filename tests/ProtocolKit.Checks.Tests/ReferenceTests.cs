using System.Text.RegularExpressions;
using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Checks.Tests;

/// <summary>Every sample of the language's reference compiles: a whole file as it stands, a fragment under the prelude.</summary>
public sealed partial class ReferenceTests
{
    public static TheoryData<string, string> Samples
    {
        get
        {
            var data = new TheoryData<string, string>();
            var pages = Directory.EnumerateFiles(Path.Combine(Root(), "grammar", "reference"), "*.md");
            foreach (var page in pages.Order(StringComparer.Ordinal))
            {
                var text = File.ReadAllText(page).ReplaceLineEndings("\n");
                foreach (Match match in Block().Matches(text))
                {
                    var line = text[..match.Index].Count(c => c == '\n') + 1;
                    data.Add($"{Path.GetFileName(page)}:{line}", match.Groups[1].Value);
                }
            }

            return data;
        }
    }

    [Fact]
    public void There_are_samples() => Assert.True(Samples.Count >= 30);

    [Theory]
    [MemberData(nameof(Samples))]
    public void Each_compiles(string place, string sample)
    {
        var isWhole = sample.Contains("protocol ", StringComparison.Ordinal) && Header().IsMatch(sample);
        var compiled = isWhole ? Compiled.Text(sample) : Compiled.Fragment(sample);
        var errors = compiled
            .Compilation.Diagnostics.Where(d => d.Severity == Severity.Error)
            .Select(DiagnosticText.Render);
        Assert.True(!errors.Any(), $"The sample at {place} of the reference:\n{string.Concat(errors)}");
    }

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "ProtocolKit.sln")))
        {
            folder =
                folder.Parent
                ?? throw new InvalidOperationException("The repository's top folder was not found.");
        }

        return folder.FullName;
    }

    [GeneratedRegex("```protocol\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Block();

    [GeneratedRegex("^protocol ", RegexOptions.Multiline)]
    private static partial Regex Header();
}
