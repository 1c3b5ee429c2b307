using System.Globalization;
using System.Text;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>Names are lower-case words and digits joined by hyphens, beginning with a letter, at most 60 characters.</summary>
internal static class NameSpelling
{
    private const int Longest = 60;

    // Spelt out, because outputs may not depend on the tables of a machine.
    private const string Accented = "àáâãäåçèéêëìíîïñòóôõöøùúûüýÿ";
    private const string Plain = "aaaaaaceeeeiiiinoooooouuuuyy";

    public static void Check(Word name, SourceText source, DiagnosticBag diagnostics)
    {
        if (!IsPlain(name.Text))
        {
            diagnostics.Report(source, name.Place, NameMessages.Spelling(name.Text, Better(name.Text)));
        }
    }

    private static bool IsPlain(string name)
    {
        if (name.Length > Longest)
        {
            return false;
        }

        foreach (var c in name)
        {
            if (!char.IsAsciiLetterLower(c) && !char.IsAsciiDigit(c) && c != '-')
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>The name with plain letters and hyphens; null where nothing like it can be made.</summary>
    private static string? Better(string name)
    {
        var better = new StringBuilder();
        var before = '-';
        foreach (var c in name.Take(2 * Longest))
        {
            if (char.IsAsciiLetterUpper(c) && char.IsAsciiLetterLower(before))
            {
                better.Append('-');
            }

            before = c;
            _ = c switch
            {
                '.' or '_' or '-' => better.Append('-'),
                'ß' => better.Append("ss"),
                'æ' => better.Append("ae"),
                'œ' => better.Append("oe"),
                _ when Accented.IndexOf(char.ToLowerInvariant(c), StringComparison.Ordinal)
                        is var at
                            and >= 0 => better.Append(Plain[at]),
                _ when char.IsAsciiLetterOrDigit(c) => better.Append(char.ToLowerInvariant(c)),
                _ when char.GetUnicodeCategory(c) == UnicodeCategory.NonSpacingMark => better,
                _ => better.Append('?'),
            };
        }

        var found = better.Length > Longest ? better.ToString(0, Longest).TrimEnd('-') : better.ToString();
        return found.Contains('?', StringComparison.Ordinal) || !IsPlain(found) ? null : found;
    }
}
