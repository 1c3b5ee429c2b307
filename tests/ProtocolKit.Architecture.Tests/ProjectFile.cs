using System.Xml.Linq;

namespace ProtocolKit.Architecture.Tests;

/// <summary>A project file of <c>src</c> or <c>tests</c>, read as XML.</summary>
internal sealed class ProjectFile
{
    private readonly XDocument _xml;

    private ProjectFile(string path)
    {
        Path = path;
        Name = System.IO.Path.GetFileNameWithoutExtension(path);
        _xml = XDocument.Parse(Repository.Read(path));
    }

    public string Path { get; }
    public string Name { get; }

    public static IReadOnlyList<ProjectFile> All { get; } =
    [
        .. Repository
            .Files.Where(f => f.EndsWith(".csproj", StringComparison.Ordinal))
            .Select(f => new ProjectFile(f)),
    ];

    public static IEnumerable<ProjectFile> OfSource =>
        All.Where(p => p.Path.StartsWith("src/", StringComparison.Ordinal));

    /// <summary>Names of the projects it refers to.</summary>
    public IEnumerable<string> ProjectReferences =>
        Items("ProjectReference")
            .Select(i => (string)i.Attribute("Include")!)
            .Select(i => System.IO.Path.GetFileNameWithoutExtension(i.Replace('\\', '/')));

    public IEnumerable<XElement> PackageReferences => Items("PackageReference");

    public string? Property(string name) => _xml.Descendants(name).FirstOrDefault()?.Value;

    private IEnumerable<XElement> Items(string kind) => _xml.Descendants(kind);
}
