using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Language.Parsing;

/// <summary>Where each first word belongs, for lines that stand in the wrong place.</summary>
internal static class Places
{
    private static readonly (string Where, Func<IEnumerable<string>> Words)[] All =
    [
        ("at the margin or under a section", () => ["task", "measure", "score"]),
        ("at the margin, not indented", () => TopLineParsers.ByWord.Keys),
        ("under protocol, indented", () => TopLineParsers.Header.Keys),
        ("under a task or family, indented", () => TaskLineParsers.ByWord.Keys),
        ("under a measure or score, indented", () => RuleLineParsers.OutcomeLines.Keys.Append("add")),
        ("under cut-offs, or under its action, indented", () => ["worse"]),
        ("under actions, indented under its action", () => ["when"]),
        ("under cut-offs or a table, indented", () => ["basis"]),
        ("under a table, indented", () => ["raw"]),
        ("under a side difference, indented", () => ["weaker", "also"]),
        ("under re-test, indented", () => ["error"]),
        ("under a caution, indented", () => ["for"]),
        ("under case-history, indented", () => ["ask"]),
        ("under consents, indented", () => ["consent"]),
        ("under readiness, indented", () => ReportLineParsers.ReadinessLines.Keys),
        ("in the file of a translation", () => ["translation"]),
        ("in the file of a translation, under translation, indented", () => ["status"]),
        ("in the file of a translation, under its text, indented", () => ["becomes"]),
        ("under a section, indented", () => ["text", "order", "start"]),
        ("under case-history, indented under its question", () => ["yes", "no"]),
    ];

    /// <summary>The word belongs elsewhere, or it is misspelt or unknown.</summary>
    public static Message NotHere(string word, string? nearest, IEnumerable<string> here)
    {
        foreach (var (place, words) in All)
        {
            if (words().Contains(word, StringComparer.Ordinal))
            {
                return LineMessages.WrongPlace(word, place);
            }
        }

        return LineMessages.UnknownWord(word, nearest, [.. here]);
    }

    /// <summary>Every word that a line can begin with somewhere.</summary>
    public static IEnumerable<string> Words => All.SelectMany(a => a.Words());

    public static bool IsKnown(string word) => All.Any(a => a.Words().Contains(word, StringComparer.Ordinal));
}
