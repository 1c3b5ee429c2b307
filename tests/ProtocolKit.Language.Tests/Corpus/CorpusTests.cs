using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Corpus;

/// <summary>
/// A folder a case under tests/corpus: <c>source.protocol</c>, modules it uses and a translation beside it, and <c>expected.txt</c>, which
/// holds every message as <c>check</c> prints it. Run the tests with <c>PROTOCOLKIT_REWRITE_CORPUS=1</c> in the
/// environment to write the expected files anew, and review the change as you would review code.
/// </summary>
public sealed class CorpusTests
{
    private const string Switch = "PROTOCOLKIT_REWRITE_CORPUS";

    private static readonly string Folder = Repository.PathOf("tests", "corpus");

    public static TheoryData<string> Cases =>
        [
            .. Directory
                .EnumerateDirectories(Folder)
                .Select(d => Path.GetFileName(d))
                .Order(StringComparer.Ordinal),
        ];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Messages_are_as_reviewed(string name)
    {
        var folder = Path.Combine(Folder, name);
        var compilation = CorpusCase.Of(name).Compile();
        var translation = Path.Combine(folder, "source.de.translation");
        if (File.Exists(translation))
        {
            compilation = compilation.Translated(
                new SourceText("source.de.translation", File.ReadAllText(translation))
            );
        }

        var found = Outcome(compilation);
        var expected = Path.Combine(folder, "expected.txt");
        if (Environment.GetEnvironmentVariable(Switch) == "1")
        {
            File.WriteAllText(expected, found);
        }

        Assert.True(
            File.Exists(expected),
            $"{name} has no expected.txt. Write it with {Switch}=1 and review it."
        );
        Assert.Equal(File.ReadAllText(expected).ReplaceLineEndings("\n"), found);
    }

    [Fact]
    public void There_are_at_least_forty_cases() => Assert.True(Cases.Count >= 40);

    private static string Outcome(Compilation compilation) =>
        compilation.Diagnostics.Count == 0 ? "nothing wrong\n" : Tiny.Rendered(compilation);
}
