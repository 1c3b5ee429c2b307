using System.Text;

namespace ProtocolKit.Language.Parsing;

/// <summary>
/// A rule as it is shown to people: as written, but with one space where several, line ends or a comment stood, and none before
/// commas or inside brackets. So a text says the same before and after it is formatted.
/// </summary>
internal static class WrittenText
{
    public static string Of(ReadOnlySpan<char> written)
    {
        var text = new StringBuilder(written.Length);
        var (isQuoted, isSpaced) = (false, false);
        for (var i = 0; i < written.Length; i++)
        {
            var c = written[i];
            if (isQuoted)
            {
                text.Append(c);
                if (c == '\\' && i + 1 < written.Length)
                {
                    text.Append(written[++i]);
                }

                isQuoted = c != '"';
                continue;
            }

            if (c is ' ' or '\t' or '\r' or '\n' or '#')
            {
                i += c == '#' ? RestOfLine(written[i..]) : 0;
                isSpaced = true;
                continue;
            }

            Space(text, c, isSpaced);
            text.Append(c);
            (isQuoted, isSpaced) = (c == '"', false);
        }

        return text.ToString();
    }

    private static void Space(StringBuilder text, char next, bool isSpaced)
    {
        var before = text.Length == 0 ? '(' : text[^1];
        if (before != '(' && next is not (',' or ')') && (isSpaced || before == ','))
        {
            text.Append(' ');
        }
    }

    /// <summary>Characters of a comment after its sign, up to the end of its line.</summary>
    private static int RestOfLine(ReadOnlySpan<char> comment)
    {
        var end = comment.IndexOf('\n');
        return (end < 0 ? comment.Length : end) - 1;
    }
}
