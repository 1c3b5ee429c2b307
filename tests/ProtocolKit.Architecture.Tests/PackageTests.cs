using System.Text.Json;
using System.Xml.Linq;

namespace ProtocolKit.Architecture.Tests;

/// <summary>Packages: versions in one place, and only free licences in what is shipped.</summary>
public class PackageTests
{
    private static readonly HashSet<string> FreeLicences = new(StringComparer.Ordinal)
    {
        "MIT",
        "Apache-2.0",
        "BSD-2-Clause",
        "BSD-3-Clause",
    };

    [Fact]
    public void No_project_states_a_version_of_its_own()
    {
        var stated = ProjectFile.All.SelectMany(p =>
            p.PackageReferences.Where(r =>
                    r.Attribute("Version") is not null || r.Attribute("VersionOverride") is not null
                )
                .Select(r => $"{p.Name}: {r.Attribute("Include")?.Value}")
        );
        Assert.Empty(stated);
    }

    [Fact]
    public void Every_package_has_one_central_version()
    {
        var central = XDocument
            .Parse(Repository.Read("Directory.Packages.props"))
            .Descendants("PackageVersion")
            .Select(v => (string)v.Attribute("Include")!)
            .ToList();
        Assert.Equal(central.Distinct(StringComparer.OrdinalIgnoreCase), central);
        var used = ProjectFile
            .All.SelectMany(p => p.PackageReferences)
            .Select(r => (string)r.Attribute("Include")!);
        Assert.Empty(used.Except(central, StringComparer.Ordinal));
    }

    [Fact]
    public void The_ground_floor_uses_no_package() =>
        Assert.Empty(ProjectFile.OfSource.Single(p => p.Name == "ProtocolKit.Model").PackageReferences);

    /// <summary>
    /// Reads the licence out of every package that a project of <c>src</c> was restored with, those of its packages too.
    /// </summary>
    [Fact]
    public void Shipped_packages_are_under_free_licences()
    {
        var licences = ProjectFile
            .OfSource.SelectMany(RestoredPackages)
            .Distinct()
            .ToDictionary(p => p.Name, p => p.Licence);
        Assert.Equal("Apache-2.0", licences["Superpower"]);
        Assert.Empty(licences.Where(l => !FreeLicences.Contains(l.Value)).Select(l => $"{l.Key}: {l.Value}"));
    }

    private static IEnumerable<(string Name, string Licence)> RestoredPackages(ProjectFile project)
    {
        var folder = Path.GetDirectoryName(Repository.FullPath(project.Path))!;
        using var assets = JsonDocument.Parse(
            File.ReadAllText(Path.Combine(folder, "obj", "project.assets.json"))
        );
        var caches = assets
            .RootElement.GetProperty("packageFolders")
            .EnumerateObject()
            .Select(f => f.Name)
            .ToList();
        var found = new List<(string, string)>();
        foreach (var library in assets.RootElement.GetProperty("libraries").EnumerateObject())
        {
            if (library.Value.GetProperty("type").GetString() == "package")
            {
                var path = library.Value.GetProperty("path").GetString()!;
                found.Add(
                    (
                        library.Name.Split('/')[0],
                        LicenceIn(caches.Select(c => Path.Combine(c, path)).First(Directory.Exists))
                    )
                );
            }
        }

        return found;
    }

    private static string LicenceIn(string package)
    {
        var described = XDocument.Load(Directory.EnumerateFiles(package, "*.nuspec").Single());
        var licence = described.Descendants().FirstOrDefault(e => e.Name.LocalName == "license");
        return (string?)licence?.Attribute("type") == "file"
            ? LicenceOfText(File.ReadAllText(Path.Combine(package, licence!.Value)))
            : licence?.Value ?? "not stated";
    }

    /// <summary>Some packages bring the text of their licence instead of its name.</summary>
    private static string LicenceOfText(string text) =>
        text.TrimStart().StartsWith("MIT License", StringComparison.Ordinal)
            ? "MIT"
            : "a text of its own: " + text.Split('\n')[0];
}
