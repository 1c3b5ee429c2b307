using System.Globalization;
using System.Text;

namespace ProtocolKit.Emit.Templating;

/// <summary>
/// Escapes every value for element content and quoted attributes alike. Templates put no value into
/// <c>script</c>, <c>style</c>, an address or an unquoted attribute; <see cref="CssString"/> writes the
/// few strings a style sheet needs. Line ends pass.
/// </summary>
public sealed class HtmlContext : StrictContext
{
    protected override string Literal(string text) => Escape(text);

    /// <summary>Escapes for HTML text and quoted attributes; characters HTML forbids become U+FFFD.</summary>
    public static string Escape(string text)
    {
        var html = new StringBuilder(text.Length + 16);
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            switch (c)
            {
                case '&':
                    html.Append("&amp;");
                    break;
                case '<':
                    html.Append("&lt;");
                    break;
                case '>':
                    html.Append("&gt;");
                    break;
                case '"':
                    html.Append("&quot;");
                    break;
                case '\'':
                    html.Append("&#39;");
                    break;
                case '\n' or '\t':
                    html.Append(c);
                    break;
                default:
                    if (char.IsSurrogate(c))
                    {
                        i += AppendPair(html, text, i);
                    }
                    else
                    {
                        html.Append(IsForbidden(c) ? '\uFFFD' : c);
                    }

                    break;
            }
        }

        return html.ToString();
    }

    /// <summary>The same text with U+FFFD for every character that HTML forbids and every mark that reorders what stands around it.</summary>
    public static string Clean(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var clean = new StringBuilder(text.Length);
        for (var i = 0; i < text.Length; i++)
        {
            if (char.IsSurrogate(text[i]))
            {
                i += AppendPair(clean, text, i);
            }
            else
            {
                clean.Append(text[i] is not ('\n' or '\t') && IsForbidden(text[i]) ? '\uFFFD' : text[i]);
            }
        }

        return clean.ToString();
    }

    /// <summary>
    /// A quoted CSS string. Everything but letters, digits, spaces and a few marks is written as a code
    /// point, so neither the string nor the style element around it can be closed from inside.
    /// </summary>
    public static Raw CssString(string text)
    {
        var css = new StringBuilder(text.Length + 16).Append('"');
        foreach (var rune in text.EnumerateRunes())
        {
            if (
                rune.IsAscii
                && (char.IsAsciiLetterOrDigit((char)rune.Value) || " .,;:()-".Contains((char)rune.Value))
            )
            {
                css.Append((char)rune.Value);
            }
            else
            {
                var forbidden = rune.IsBmp && rune.Value != '\n' && IsForbidden((char)rune.Value);
                var value = forbidden ? 0xFFFD : rune.Value;
                css.Append('\\').Append(value.ToString("X", CultureInfo.InvariantCulture)).Append(' ');
            }
        }

        return new Raw(css.Append('"').ToString());
    }

    private static int AppendPair(StringBuilder html, string text, int at)
    {
        if (at + 1 < text.Length && char.IsSurrogatePair(text[at], text[at + 1]))
        {
            html.Append(text, at, 2);
            return 1;
        }

        html.Append('\uFFFD');
        return 0;
    }

    /// <summary>Controls, the two non-characters, and marks that reorder the text around them.</summary>
    private static bool IsForbidden(char c) =>
        char.IsControl(c)
        || c is '\uFFFE' or '\uFFFF' or (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069');
}
