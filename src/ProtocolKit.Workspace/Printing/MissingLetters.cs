using System.Net;
using System.Text.RegularExpressions;
using UglyToad.PdfPig;

namespace ProtocolKit.Workspace.Printing;

/// <summary>
/// Letters of a page for which this machine has no typeface: a browser prints an empty box for each, so the page stays whole and says
/// nothing. Asked only where a page has letters beyond the Latin ones.
/// </summary>
internal static partial class MissingLetters
{
    private const int LastLatin = 0x24F;
    private const int Shown = 12;

    /// <returns>The first few missing letters; empty where all are on paper.</returns>
    public static string In(string html, string pdf)
    {
        var wanted = Letters(WebUtility.HtmlDecode(Markup().Replace(html, " ")));
        if (wanted.Count == 0)
        {
            return "";
        }

        using var document = PdfDocument.Open(pdf);
        var printed = Letters(
            string.Concat(document.GetPages().SelectMany(p => p.Letters).Select(l => l.Value))
        );
        return string.Concat(wanted.Except(printed).Take(Shown));
    }

    private static HashSet<string> Letters(string text) =>
        text.EnumerateRunes()
            .Where(r => r.Value > LastLatin && System.Text.Rune.IsLetter(r))
            .Select(r => r.ToString())
            .ToHashSet(StringComparer.Ordinal);

    [GeneratedRegex("(?s)<style.*?</style>|<script.*?</script>|<[^>]*>", RegexOptions.CultureInvariant)]
    private static partial Regex Markup();
}
