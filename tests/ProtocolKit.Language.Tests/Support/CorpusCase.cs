namespace ProtocolKit.Language.Tests.Support;

/// <summary>A case of tests/corpus: its text and the modules beside it.</summary>
internal sealed record CorpusCase(string Name, string Text, IReadOnlyDictionary<string, string> Texts)
{
    private const string Source = "source";

    public static IReadOnlyList<CorpusCase> All { get; } =
    [
        .. Directory
            .EnumerateDirectories(Repository.PathOf("tests", "corpus"))
            .Order(StringComparer.Ordinal)
            .Select(Read),
    ];

    public static CorpusCase Of(string name) => All.Single(c => c.Name == name);

    /// <summary>Cases whose name begins with <c>proof-</c> are proved too.</summary>
    public Compilation Compile()
    {
        var compilation = Compilation.Of(new SourceText(Source + ".protocol", Text), new Modules(Texts));
        return Name.StartsWith("proof-", StringComparison.Ordinal) ? Tiny.Proved(compilation) : compilation;
    }

    /// <summary>The case with another text for one of its files.</summary>
    public CorpusCase With(SourceText file, string text)
    {
        var name = Path.GetFileNameWithoutExtension(file.Name);
        return name == Source
            ? this with
            {
                Text = text,
            }
            : this with
            {
                Texts = Texts.ToDictionary(t => t.Key, t => t.Key == name ? text : t.Value),
            };
    }

    private static CorpusCase Read(string folder)
    {
        var texts = Directory
            .EnumerateFiles(folder, "*.protocol")
            .ToDictionary(f => Path.GetFileNameWithoutExtension(f), File.ReadAllText, StringComparer.Ordinal);
        return new CorpusCase(Path.GetFileName(folder), texts[Source], texts);
    }
}
