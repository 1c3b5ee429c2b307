using System.Globalization;
using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Manual;

/// <summary>
/// Stands in a page's contents where a page number goes. It is a comment of HTML, which no text of a protocol can become, and is
/// filled in once the page has been printed and its headings found; without a printer it stays, and nothing is shown.
/// </summary>
public static class ContentsMark
{
    /// <summary>The mark of the entry with this number, counted from 0.</summary>
    public static Raw Of(int entry) => new(Text(entry));

    /// <summary>The page with its marks replaced by numbers; an entry whose page is unknown keeps its mark.</summary>
    /// <param name="pages">By entry; null where unknown.</param>
    public static string Fill(string html, IReadOnlyList<int?> pages)
    {
        ArgumentNullException.ThrowIfNull(html);
        ArgumentNullException.ThrowIfNull(pages);
        for (var i = 0; i < pages.Count; i++)
        {
            if (pages[i] is { } page)
            {
                html = html.Replace(
                    Text(i),
                    page.ToString(CultureInfo.InvariantCulture),
                    StringComparison.Ordinal
                );
            }
        }

        return html;
    }

    private static string Text(int entry) =>
        string.Create(CultureInfo.InvariantCulture, $"<!--page of {entry}-->");
}
