using ProtocolKit.Language;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Workspace;

/// <summary>A protocol's file with its compilation.</summary>
/// <param name="Path">As the user named it; <c>-</c> for what came from standard input.</param>
public sealed record ProtocolFile(string Path, SourceText Source, Compilation Compilation)
{
    private readonly ModuleFolders? _modules;

    private ProtocolFile(string path, SourceText source, ModuleFolders modules)
        : this(path, source, Compilation.Of(source, modules)) => _modules = modules;

    /// <summary>Reads and compiles a file with the modules it uses.</summary>
    /// <exception cref="FileProblemException">The file itself can't be read; what is wrong in it is in the compilation.</exception>
    public static ProtocolFile Open(string path) =>
        new(
            path,
            new SourceText(System.IO.Path.GetFileName(path), TextFile.Read(path)),
            new ModuleFolders(path)
        );

    /// <summary>Compiles a text that is in no file; modules are looked for in the current folder.</summary>
    public static ProtocolFile OfInput(string text) =>
        new("-", new SourceText("standard input", text), new ModuleFolders("standard-input"));

    /// <summary>
    /// Where a text of this compilation is, from the folder in which the program runs, with forward slashes; for a module
    /// of the library that comes with the program its name alone.
    /// </summary>
    public string PathOf(SourceText source)
    {
        ArgumentNullException.ThrowIfNull(source);
        var path = ReferenceEquals(source, Source) ? Path : _modules?.PathOf(source) ?? source.Name;
        return path.Replace('\\', '/');
    }
}
