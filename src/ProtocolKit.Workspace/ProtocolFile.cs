using ProtocolKit.Language;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Workspace;

/// <summary>A protocol's file with its compilation.</summary>
public sealed record ProtocolFile(string Path, SourceText Source, Compilation Compilation)
{
    /// <summary>Reads and compiles a file with the modules it uses.</summary>
    /// <exception cref="FileProblemException">The file itself can't be read; what is wrong in it is in the compilation.</exception>
    public static ProtocolFile Open(string path)
    {
        var source = new SourceText(System.IO.Path.GetFileName(path), TextFile.Read(path));
        return new ProtocolFile(path, source, Compilation.Of(source, new ModuleFolders(path)));
    }
}
