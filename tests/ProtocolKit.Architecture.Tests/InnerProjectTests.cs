namespace ProtocolKit.Architecture.Tests;

/// <summary>Inner projects work on what they are handed: no files, consoles, clocks, processes or networks.</summary>
public class InnerProjectTests
{
    private const string BannedList = "src/BannedSymbols.txt";

    // The compiler itself writes this into every iterator.
    private const string WrittenByTheCompiler = "System.Environment.get_CurrentManagedThreadId";

    [Fact]
    public void Inner_projects_say_so_and_no_other_does()
    {
        var said = ProjectFile
            .OfSource.Where(p => p.Property("InnerProject") == "true")
            .Select(p => p.Name)
            .Order(StringComparer.Ordinal);
        Assert.Equal(House.Inner.Order(StringComparer.Ordinal), said);
    }

    [Fact]
    public void Inner_projects_get_the_list_of_banned_symbols_and_its_analyzer()
    {
        var props = Repository.Read("Directory.Build.props");
        Assert.Contains("'$(InnerProject)' == 'true'", props, StringComparison.Ordinal);
        Assert.Contains(BannedList, props, StringComparison.Ordinal);
        Assert.Contains("Microsoft.CodeAnalysis.BannedApiAnalyzers", props, StringComparison.Ordinal);
        Assert.Contains(BannedList, Repository.Files);
    }

    [Theory]
    [InlineData("T:System.IO.File;")]
    [InlineData("T:System.IO.Directory;")]
    [InlineData("T:System.Console;")]
    [InlineData("T:System.Diagnostics.Process;")]
    [InlineData("T:System.Random;")]
    [InlineData("P:System.DateTime.Now;")]
    [InlineData("T:System.Net.Http.HttpClient;")]
    public void The_list_names_the_doors_to_the_outside(string entry) =>
        Assert.Contains(entry, Repository.Read(BannedList), StringComparison.Ordinal);

    /// <summary>Looks at the compiled code, so a switched-off warning hides nothing.</summary>
    [Fact]
    public void Compiled_inner_projects_use_nothing_of_the_list()
    {
        var inner = ProjectFile.OfSource.Where(p => House.Inner.Contains(p.Name)).Select(CompiledAssembly.Of);
        var used = inner.SelectMany(a => BannedIn(a.UsedMembers).Select(m => $"{a.Name} uses {m}"));
        Assert.Empty(used);
    }

    [Fact]
    public void A_use_of_the_list_is_noticed()
    {
        Assert.Equal(
            ["System.Console.Write", "System.DateTime.get_Now", "System.IO.File.ReadAllText"],
            BannedIn([
                "System.Console.Write",
                "System.DateTime.get_Now",
                "System.DateTime.get_Year",
                "System.IO.File.ReadAllText",
                "System.IO.FileSystemName.Fake",
            ])
        );

        // The outer projects do use it: the reading of compiled code sees what is there.
        var workspace = CompiledAssembly.Of(
            ProjectFile.OfSource.Single(p => p.Name == "ProtocolKit.Workspace")
        );
        Assert.NotEmpty(BannedIn(workspace.UsedMembers));
    }

    private static IEnumerable<string> BannedIn(IEnumerable<string> members)
    {
        var entries = Repository
            .Read(BannedList)
            .Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(l => l.Split(';')[0])
            .ToList();
        var types = entries.Where(e => e[0] == 'T').Select(e => e[2..] + ".").ToList();
        var single = entries.Where(e => e[0] == 'M').Select(e => e[2..]);
        var getters = entries.Where(e => e[0] == 'P').Select(e => e[2..]).Select(Getter);
        var exact = single.Concat(getters).ToHashSet(StringComparer.Ordinal);
        return members.Where(m =>
            m != WrittenByTheCompiler
            && (exact.Contains(m) || types.Exists(t => m.StartsWith(t, StringComparison.Ordinal)))
        );
    }

    private static string Getter(string property)
    {
        var dot = property.LastIndexOf('.');
        return $"{property[..dot]}.get_{property[(dot + 1)..]}";
    }
}
