using System.Text.RegularExpressions;
using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Checks.Tests;

/// <summary>Every sample of the language's reference compiles: a whole file as it stands, a fragment under the prelude.</summary>
public sealed partial class ReferenceTests
{
    public static TheoryData<int, string> Samples
    {
        get
        {
            var data = new TheoryData<int, string>();
            var text = File.ReadAllText(Path.Combine(Root(), "grammar", "reference.md"))
                .ReplaceLineEndings("\n");
            foreach (Match match in Block().Matches(text))
            {
                data.Add(text[..match.Index].Count(c => c == '\n') + 1, match.Groups[1].Value);
            }

            return data;
        }
    }

    [Fact]
    public void There_are_samples() => Assert.True(Samples.Count >= 8);

    [Theory]
    [MemberData(nameof(Samples))]
    public void Each_compiles(int line, string sample)
    {
        var isWhole = sample.Contains("protocol ", StringComparison.Ordinal) && Header().IsMatch(sample);
        var compiled = isWhole ? Compiled.Text(sample) : Compiled.Fragment(sample);
        var errors = compiled
            .Compilation.Diagnostics.Where(d => d.Severity == Severity.Error)
            .Select(DiagnosticText.Render);
        Assert.True(!errors.Any(), $"The sample at line {line} of the reference:\n{string.Concat(errors)}");
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
