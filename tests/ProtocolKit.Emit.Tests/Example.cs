using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace;

namespace ProtocolKit.Emit.Tests;

/// <summary>The library's example and its records, opened once.</summary>
internal static class Example
{
    private static readonly Lazy<ProtocolFile> Opened = new(() =>
        ProtocolFile.Open(PathOf("quillmere-screen.protocol"))
    );

    private static readonly Lazy<Protocol> OpenedGerman = new(() => File.In("de").Compilation.Protocol!);

    public static ProtocolFile File => Opened.Value;

    public static Protocol Protocol => File.Compilation.Protocol!;

    public static Protocol German => OpenedGerman.Value;

    public static string PathOf(string name) => Path.Combine(Root, "library", "quillmere", name);

    /// <summary>The repository's top folder.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>A record of the library, with texts in it changed before it is scored.</summary>
    public static ScoredRecord Scored(string record, params (string Old, string New)[] changes)
    {
        var text = System.IO.File.ReadAllText(PathOf($"records/{record}.yaml"));
        foreach (var (old, changed) in changes)
        {
            Assert.Contains(old, text, StringComparison.Ordinal);
            text = text.Replace(old, changed, StringComparison.Ordinal);
        }

        var reading = RecordReader.Read(text, record, Protocol, new RecordOptions());
        Assert.True(reading.Record is not null, string.Join("\n", reading.Problems));
        return Scorer.Score(Protocol, reading.Record);
    }

    private static string FindRoot()
    {
        var folder = AppContext.BaseDirectory;
        while (!System.IO.File.Exists(Path.Combine(folder, "ProtocolKit.sln")))
        {
            folder = Path.GetDirectoryName(folder)!;
        }

        return folder;
    }
}
