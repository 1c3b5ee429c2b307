using System.Text.RegularExpressions;

namespace ProtocolKit.Language.Tests.Support;

/// <summary>The reference: its first page and a page for each statement, with the samples on them.</summary>
/// <param name="Name">The file's name without its ending.</param>
internal sealed partial record ReferencePage(string Name, string Text)
{
    /// <summary>The first page, then the others by name.</summary>
    public static IReadOnlyList<ReferencePage> All { get; } =
    [
        new("reference", Repository.Read("grammar", "reference.md").ReplaceLineEndings("\n")),
        .. Directory
            .EnumerateFiles(Repository.PathOf("grammar", "reference"), "*.md")
            .Order(StringComparer.Ordinal)
            .Select(f => new ReferencePage(
                Path.GetFileNameWithoutExtension(f),
                File.ReadAllText(f).ReplaceLineEndings("\n")
            )),
    ];

    public static ReferencePage First => All[0];

    /// <summary>The samples of all pages, each named by its page and the line at which it begins.</summary>
    public static IReadOnlyDictionary<string, string> Samples { get; } =
        All.SelectMany(p => p.Blocks.Select(b => ($"{p.Name}:{b.Line}", b.Text)))
            .ToDictionary(s => s.Item1, s => s.Text, StringComparer.Ordinal);

    public IReadOnlyList<(int Line, string Text)> Blocks =>
        [
            .. Block()
                .Matches(Text)
                .Select(m =>
                    (Text[..m.Groups["body"].Index].Count(c => c == '\n') + 1, m.Groups["body"].Value)
                ),
        ];

    /// <summary>Translations, each with the sample before it, which it translates.</summary>
    public IReadOnlyList<(string Protocol, string Translation)> Translations =>
        [
            .. Translation()
                .Matches(Text)
                .Select(m =>
                    (Block().Matches(Text[..m.Index])[^1].Groups["body"].Value, m.Groups["body"].Value)
                ),
        ];

    [GeneratedRegex("^```translation\n(?<body>.*?)^```$", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Translation();

    [GeneratedRegex("^```protocol\n(?<body>.*?)^```$", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Block();
}
