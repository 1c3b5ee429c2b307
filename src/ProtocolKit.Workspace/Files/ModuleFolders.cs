using ProtocolKit.Language;
using ProtocolKit.Language.Binding;

namespace ProtocolKit.Workspace.Files;

/// <summary>
/// Finds modules beside the protocol, in a folder <c>modules</c> beside it, and in the library that comes with the
/// program, in this order.
/// </summary>
public sealed class ModuleFolders : IModuleSource
{
    private const string Ending = ".protocol";
    private readonly IReadOnlyList<string> _folders;
    private readonly Dictionary<SourceText, string> _paths = [];
    private readonly string _given;
    private readonly string _beside;

    public ModuleFolders(string protocolPath)
    {
        var beside = Path.GetDirectoryName(Path.GetFullPath(protocolPath)) ?? ".";
        _given = Path.GetDirectoryName(protocolPath) ?? ".";
        _beside = beside;
        _folders =
        [
            beside,
            Path.Combine(beside, "modules"),
            Path.Combine(AppContext.BaseDirectory, "library", "modules"),
        ];
    }

    public IEnumerable<string> Names =>
        _folders
            .Where(Directory.Exists)
            .SelectMany(f => Directory.EnumerateFiles(f, "*" + Ending))
            .Select(f => Path.GetFileNameWithoutExtension(f))
            .Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal);

    public SourceText? Find(string name)
    {
        // A module's name is a plain name: it can't lead out of these folders.
        if (name.AsSpan().IndexOfAny('/', '\\', '.') >= 0)
        {
            return null;
        }

        var path = _folders.Select(f => Path.Combine(f, name + Ending)).FirstOrDefault(File.Exists);
        if (path is null)
        {
            return null;
        }

        var found = new SourceText(name + Ending, TextFile.Read(path));
        _paths[found] = path;
        return found;
    }

    /// <summary>
    /// Where a module was found, written from where the protocol's own path is; null for the library's, which is no file of
    /// the user's.
    /// </summary>
    public string? PathOf(SourceText module) =>
        _paths.TryGetValue(module, out var path) && path.StartsWith(_beside, StringComparison.Ordinal)
            ? Path.Combine(_given, Path.GetRelativePath(_beside, path))
            : null;
}
