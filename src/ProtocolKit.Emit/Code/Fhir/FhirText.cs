using System.Globalization;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>Texts, codes and numbers as FHIR and FHIRPath take them.</summary>
internal static class FhirText
{
    private const string Nothing = "-";

    /// <summary>
    /// A string of FHIR: no controls but tabs and line ends, no lone surrogates, never empty. Source: FHIR R4, datatypes, string.
    /// </summary>
    public static string Of(string text)
    {
        var clean = new StringBuilder(text.Length);
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                clean.Append(c).Append(text[++i]);
            }
            else
            {
                clean.Append(
                    char.IsSurrogate(c) ? '\uFFFD'
                    : char.IsControl(c) && c is not '\n' ? ' '
                    : c
                );
            }
        }

        var trimmed = clean.ToString().Trim();
        return trimmed.Length == 0 ? Nothing : trimmed;
    }

    /// <summary>A code: words with single spaces between.</summary>
    public static string Code(string text) =>
        string.Join(' ', Of(text).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    /// <summary>
    /// A FHIRPath string. All but plain ASCII is written as <c>\u</c> and four digits, so nothing in a text can end the string
    /// or reorder the expression.
    /// </summary>
    public static string Quote(string text)
    {
        var code = new StringBuilder(text.Length + 2).Append('\'');
        foreach (var c in text)
        {
            if (c is '\'' or '\\')
            {
                code.Append('\\').Append(c);
            }
            else if (c is < ' ' or > '~')
            {
                code.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}");
            }
            else
            {
                code.Append(c);
            }
        }

        return code.Append('\'').ToString();
    }

    /// <summary>The least number of digits behind the point that hold a step; null where decimals can't.</summary>
    public static int? Decimals(Rational step)
    {
        var text = step.ToString();
        if (text.Contains('/', StringComparison.Ordinal))
        {
            return null;
        }

        var point = text.IndexOf('.', StringComparison.Ordinal);
        return point < 0 ? 0 : text.Length - point - 1;
    }

    public static string Whole(long value) => value.ToString(CultureInfo.InvariantCulture);
}
