using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Language.Parsing;

/// <summary>Where each first word belongs, for lines that stand in the wrong place.</summary>
internal static class Places
{
    private static readonly (string Where, Func<IEnumerable<string>> Words)[] All =
        [
            ("at the margin, not indented", () => TopLineParsers.ByWord.Keys),
            ("under protocol, indented", () => TopLineParsers.Header.Keys),
            ("under a task or family, indented", () => TaskLineParsers.ByWord.Keys),
            ("under a measure or score, indented", () => RuleLineParsers.OutcomeLines.Keys),
            ("under actions, indented under its action", () => ["when"]),
            ("under cut-offs, indented", () => ["basis"]),
            ("under re-test, indented", () => ["error"]),
            ("under a caution, indented", () => ["for"]),
            ("under case-history, indented", () => ["ask"]),
            ("under consents, indented", () => ["consent"]),
            ("under a section, indented", () => ["text"]),
        ];

    public static Message NotHere(string word, IEnumerable<string> here, string where)
    {
        foreach (var (place, words) in All)
        {
            if (words().Contains(word, StringComparer.Ordinal))
            {
                return LineMessages.WrongPlace(word, place);
            }
        }

        _ = where;
        var known = here.ToList();
        return LineMessages.UnknownWord(word, Suggest.Nearest(word, known), known);
    }
}
