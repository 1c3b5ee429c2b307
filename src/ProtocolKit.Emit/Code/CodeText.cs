using System.Globalization;
using System.Text;
using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Code;

/// <summary>Writes a protocol's texts into code so that no text can leave its string or its comment.</summary>
public static class CodeText
{
    private const int CommentWidth = 92;

    /// <summary>
    /// A double-quoted string, read alike by C# and JavaScript. Quotes, backslashes, controls, line ends of
    /// every kind, marks that reorder text, lone surrogates and <c>&lt;</c> are written as escapes, so the file
    /// may stand inside a page's script element too.
    /// </summary>
    public static Raw Quote(string text)
    {
        var code = new StringBuilder(text.Length + 2).Append('"');
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (c is '"' or '\\')
            {
                code.Append('\\').Append(c);
            }
            else if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                code.Append(c).Append(text[++i]);
            }
            else if (c == '<' || IsUnsafe(c))
            {
                code.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:X4}");
            }
            else
            {
                code.Append(c);
            }
        }

        return new Raw(code.Append('"').ToString());
    }

    /// <summary>
    /// Text for one line comment. Line ends, controls and marks that reorder text become spaces; what would
    /// close a comment or a script element is pulled apart.
    /// </summary>
    public static Raw Comment(string text)
    {
        var line = new StringBuilder(text.Length);
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                line.Append(c).Append(text[++i]);
                continue;
            }

            var next = IsUnsafe(c) ? ' ' : c;
            if (line.Length > 0 && OpensOrCloses(line[^1], next))
            {
                line.Append(' ');
            }

            line.Append(next);
        }

        return new Raw(line.ToString().Trim());
    }

    /// <summary>Text for several line comments, broken at spaces where it grows long.</summary>
    public static IReadOnlyList<Raw> Comments(string text)
    {
        var lines = new List<Raw>();
        var line = new StringBuilder();
        foreach (var word in Comment(text).Text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Length > 0 && line.Length + word.Length >= CommentWidth)
            {
                lines.Add(new Raw(line.ToString()));
                line.Clear();
            }

            line.Append(line.Length == 0 ? "" : " ").Append(word);
        }

        lines.Add(new Raw(line.ToString()));
        return lines;
    }

    private static bool OpensOrCloses(char before, char next) =>
        (before, next) is ('*', '/') or ('/', '*') or ('<', '/') or ('<', '!') or ('-', '>');

    private static bool IsUnsafe(char c) =>
        char.GetUnicodeCategory(c)
            is UnicodeCategory.Control
                or UnicodeCategory.Format
                or UnicodeCategory.LineSeparator
                or UnicodeCategory.ParagraphSeparator
                or UnicodeCategory.Surrogate
                or UnicodeCategory.OtherNotAssigned;
}
