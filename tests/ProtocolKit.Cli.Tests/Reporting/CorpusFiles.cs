namespace ProtocolKit.Cli.Tests.Reporting;

/// <summary>The texts of tests/corpus, copied into the current folder with the modules beside them.</summary>
internal static class CorpusFiles
{
    public static IReadOnlyList<string> Copy()
    {
        var corpus = Path.Combine(Sandbox.Root, "tests", "corpus");
        foreach (var file in Directory.EnumerateFiles(corpus, "*.protocol", SearchOption.AllDirectories))
        {
            Sandbox.Write(Path.Combine("corpus", Path.GetRelativePath(corpus, file)), File.ReadAllText(file));
        }

        return
        [
            .. Directory
                .EnumerateFiles("corpus", "source.protocol", SearchOption.AllDirectories)
                .Order(StringComparer.Ordinal),
        ];
    }
}
