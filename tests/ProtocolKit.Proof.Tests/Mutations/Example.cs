using System.Runtime.CompilerServices;
using ProtocolKit.Language;
using ProtocolKit.Language.Binding;

namespace ProtocolKit.Proof.Tests.Mutations;

/// <summary>The example of the library as texts: the screen, its cut-offs, and the modules it uses.</summary>
/// <param name="Screen">The protocol's own text.</param>
/// <param name="CutOffs">The text of the module with all its cut-offs.</param>
internal sealed record Example(string Screen, string CutOffs)
{
    public const string CutOffsName = "quillmere-cut-offs";

    public static Example Read() =>
        new(
            File.ReadAllText(Path.Combine(Folder, "quillmere", "quillmere-screen.protocol")),
            File.ReadAllText(Path.Combine(Folder, "quillmere", "modules", CutOffsName + ".protocol"))
        );

    public Compilation Compile() =>
        Compilation.Of(new SourceText("quillmere-screen.protocol", Screen), new Modules(this));

    private static string Folder => Path.GetFullPath(Path.Combine(Here(), "../../../../library"));

    private static string Here([CallerFilePath] string path = "") => path;

    private sealed class Modules(Example example) : IModuleSource
    {
        public SourceText? Find(string name)
        {
            var path = Path.Combine(Folder, "modules", name + ".protocol");
            return name == CutOffsName ? new SourceText(name + ".protocol", example.CutOffs)
                : File.Exists(path) ? new SourceText(name + ".protocol", File.ReadAllText(path))
                : null;
        }

        public IEnumerable<string> Names => [CutOffsName];
    }
}
