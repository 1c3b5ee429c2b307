using System.Globalization;
using System.Text;

namespace ProtocolKit.Emit.Code.R;

/// <summary>Texts as R strings.</summary>
internal static class RText
{
    /// <summary>
    /// A double-quoted string of plain ASCII, so that the file means the same in every locale. The character with
    /// number 0 can't stand in an R string: it is shown instead of carried, as is half a character.
    /// </summary>
    public static string Quote(string text)
    {
        var code = new StringBuilder(text.Length + 2).Append('"');
        foreach (var rune in text.EnumerateRunes())
        {
            if (rune.Value is '"' or '\\')
            {
                code.Append('\\').Append((char)rune.Value);
            }
            else if (rune.Value is >= 0x20 and < 0x7F)
            {
                code.Append((char)rune.Value);
            }
            else
            {
                var number = rune.Value == 0 ? 0xFFFD : rune.Value;
                code.Append(CultureInfo.InvariantCulture, $"\\U{{{number:X}}}");
            }
        }

        return code.Append('"').ToString();
    }
}
