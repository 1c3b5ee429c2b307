using ProtocolKit.Model;
using ProtocolKit.PilotGenerator;
using ProtocolKit.Workspace;

namespace ProtocolKit.Workspace.Tests;

/// <summary>The example of the library with its invented pilot, opened once for all tests.</summary>
internal static class Library
{
    private static readonly Lazy<Protocol> Opened = new(() =>
        ProtocolFile.Open(PathOf("quillmere-screen.protocol")).Compilation.Protocol!
    );

    private static readonly Lazy<Truth> ReadTruth = new(() =>
        Truth.Read(File.ReadAllText(PathOf("pilot/truth.json")))
    );

    public static Protocol Quillmere => Opened.Value;

    public static Truth Truth => ReadTruth.Value;

    public static string PilotPath => PathOf("pilot/pilot.csv");

    public static string PathOf(string name)
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProtocolKit.sln")))
        {
            folder = Path.GetDirectoryName(folder)!;
        }

        return Path.Combine(folder, "library", "quillmere", name);
    }
}
