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

    public ModuleFolders(string protocolPath)
    {
        var beside = Path.GetDirectoryName(Path.GetFullPath(protocolPath)) ?? ".";
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
        return path is null ? null : new SourceText(name + Ending, TextFile.Read(path));
    }
}
