namespace ProtocolKit.Architecture.Tests;

/// <summary>Dependencies point one way only.</summary>
public class DependencyTests
{
    [Fact]
    public void Every_source_project_has_its_row_in_the_table()
    {
        var rows = House.Allowed.Keys.Order(StringComparer.Ordinal);
        var projects = ProjectFile.OfSource.Select(p => p.Name).Order(StringComparer.Ordinal);
        Assert.Equal(rows, projects);
    }

    [Fact]
    public void Project_files_refer_only_to_what_the_table_allows()
    {
        var references = ProjectFile.OfSource.SelectMany(p => p.ProjectReferences.Select(r => (p.Name, r)));
        Assert.Empty(House.Forbidden(references));
    }

    [Fact]
    public void Compiled_assemblies_use_only_what_the_table_allows()
    {
        var references = ProjectFile
            .OfSource.Select(CompiledAssembly.Of)
            .SelectMany(a => a.References.Where(IsOurs).Select(r => (a.Name, r)))
            .ToList();
        Assert.Contains(("ProtocolKit.Workspace", "ProtocolKit.Language"), references);
        Assert.Empty(House.Forbidden(references));
    }

    [Fact]
    public void A_dependency_against_the_drawing_is_noticed()
    {
        Assert.Equal(
            ["ProtocolKit.Emit -> ProtocolKit.Scoring", "ProtocolKit.Model -> ProtocolKit.Language"],
            House.Forbidden([
                ("ProtocolKit.Model", "ProtocolKit.Language"),
                ("ProtocolKit.Emit", "ProtocolKit.Scoring"),
                ("ProtocolKit.Emit", "ProtocolKit.Model"),
            ])
        );
    }

    [Fact]
    public void The_table_itself_has_no_cycle()
    {
        var order = new List<string>();
        var left = House.Allowed.ToDictionary(p => p.Key, p => p.Value.ToHashSet(StringComparer.Ordinal));
        while (left.Count > 0)
        {
            var next = left.FirstOrDefault(p => p.Value.IsSubsetOf(order)).Key;
            Assert.True(next is not null, "A cycle among " + string.Join(", ", left.Keys));
            order.Add(next);
            left.Remove(next);
        }
    }

    private static bool IsOurs(string assembly) =>
        assembly.StartsWith("ProtocolKit.", StringComparison.Ordinal);
}
