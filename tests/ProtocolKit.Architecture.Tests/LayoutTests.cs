using System.Text.RegularExpressions;

namespace ProtocolKit.Architecture.Tests;

/// <summary>A reader finds things where the drawing says they are.</summary>
public partial class LayoutTests
{
    private const int LongestFile = 400;

    private static readonly string[] Top =
    [
        "DEVELOPERS.md",
        "Directory.Build.props",
        "Directory.Packages.props",
        "LICENSE",
        "ProtocolKit.sln",
        "README.md",
        "global.json",
        "grammar",
        "library",
        "src",
        "templates",
        "tests",
    ];

    private static readonly string[] MayBeOnTop = ["nuget.config"];

    [Fact]
    public void The_top_level_is_exactly_the_agreed_list()
    {
        var found = Repository
            .Files.Select(f => f.Split('/')[0])
            .Distinct(StringComparer.Ordinal)
            .Where(f => f[0] != '.')
            .Except(MayBeOnTop)
            .Order(StringComparer.Ordinal);
        Assert.Equal(Top.Order(StringComparer.Ordinal), found);
    }

    [Fact]
    public void Every_project_is_in_the_solution_and_no_other()
    {
        var inSolution = SolutionProject()
            .Matches(Repository.Read("ProtocolKit.sln"))
            .Select(m => m.Groups["path"].Value.Replace('\\', '/'))
            .Order(StringComparer.Ordinal);
        Assert.Equal(ProjectFile.All.Select(p => p.Path).Order(StringComparer.Ordinal), inSolution);
    }

    [Fact]
    public void A_project_stands_in_a_folder_of_its_own_name() =>
        Assert.All(
            ProjectFile.All,
            p => Assert.EndsWith($"/{p.Name}/{p.Name}.csproj", p.Path, StringComparison.Ordinal)
        );

    [Fact]
    public void No_source_file_holds_two_ideas()
    {
        var tooLong = Code()
            .Select(f => (File: f, Lines: Repository.Read(f).Count(c => c == '\n')))
            .Where(f => f.Lines > LongestFile)
            .Select(f => $"{f.File}: {f.Lines} lines, at most {LongestFile}");
        Assert.Empty(tooLong);
    }

    [Fact]
    public void Namespaces_follow_projects_and_folders()
    {
        var astray = Code()
            .Select(f => (File: f, Found: Namespace().Match(Repository.Read(f)).Groups["name"].Value))
            .Where(f => f.Found.Length > 0 && !Fits(f.File, f.Found))
            .Select(f => $"{f.File} is in {f.Found}");
        Assert.Empty(astray);
    }

    [Theory]
    [InlineData("src/ProtocolKit.Model/Ages/Age.cs", "ProtocolKit.Model", true)]
    [InlineData("src/ProtocolKit.Emit/Paper/Words.cs", "ProtocolKit.Emit.Paper", true)]
    [InlineData("src/ProtocolKit.Emit/Paper/Words.cs", "ProtocolKit.Emit.Templating", false)]
    [InlineData("src/ProtocolKit.Emit/Paper/Words.cs", "ProtocolKit", false)]
    [InlineData("src/ProtocolKit.Emit/Paper/Words.cs", "ProtocolKit.Emi", false)]
    [InlineData("tests/Shared/Sample.cs", "ProtocolKit.TestPrograms", true)]
    [InlineData("tests/Shared/Sample.cs", "Elsewhere", false)]
    public void Fitting_namespaces_are_told_from_others(string file, string name, bool fits) =>
        Assert.Equal(fits, Fits(file, name));

    private static IEnumerable<string> Code() =>
        Repository.FilesUnder("src", ".cs").Concat(Repository.FilesUnder("tests", ".cs"));

    /// <summary>A file is in its project's namespace or in one of the folders on its way. Shared files belong to no project.</summary>
    private static bool Fits(string file, string name)
    {
        var folders = file.Split('/')[1..^1];
        if (!folders[0].StartsWith("ProtocolKit.", StringComparison.Ordinal))
        {
            return name.StartsWith("ProtocolKit.", StringComparison.Ordinal);
        }

        return Enumerable.Range(1, folders.Length).Any(n => string.Join('.', folders[..n]) == name);
    }

    [GeneratedRegex("""^Project\(.*?\) = ".*?", "(?<path>.*?\.csproj)",""", RegexOptions.Multiline)]
    private static partial Regex SolutionProject();

    [GeneratedRegex(@"^namespace (?<name>[\w.]+)", RegexOptions.Multiline)]
    private static partial Regex Namespace();
}
