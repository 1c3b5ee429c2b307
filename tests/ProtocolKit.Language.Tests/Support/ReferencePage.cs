using System.Text.RegularExpressions;

namespace ProtocolKit.Language.Tests.Support;

/// <summary>The samples of grammar/reference.md, each with the line at which it begins.</summary>
internal static partial class ReferencePage
{
    public static string Text { get; } = Repository.Read("grammar", "reference.md").ReplaceLineEndings("\n");

    public static IReadOnlyList<(int Line, string Text)> Blocks { get; } =
    [
        .. Block()
            .Matches(Text)
            .Select(m => (Text[..m.Groups["body"].Index].Count(c => c == '\n') + 1, m.Groups["body"].Value)),
    ];

    /// <summary>Translations, each with the sample before it, which it translates.</summary>
    public static IReadOnlyList<(string Protocol, string Translation)> Translations { get; } =
    [
        .. Translation()
            .Matches(Text)
            .Select(m => (Block().Matches(Text[..m.Index])[^1].Groups["body"].Value, m.Groups["body"].Value)),
    ];

    [GeneratedRegex("^```translation\n(?<body>.*?)^```$", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Translation();

    [GeneratedRegex("^```protocol\n(?<body>.*?)^```$", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Block();
}
