using UglyToad.PdfPig;
using UglyToad.PdfPig.Outline;

namespace ProtocolKit.Workspace.Printing;

/// <summary>On which page of a printed PDF each heading stands, read from the outline the browser writes.</summary>
internal static class HeadingPages
{
    /// <param name="headings">Texts of headings, in the order of the page; those not found get null.</param>
    public static IReadOnlyList<int?> Of(string pdf, IReadOnlyList<string> headings)
    {
        using var document = PdfDocument.Open(pdf);
        if (!document.TryGetBookmarks(out var bookmarks))
        {
            return [.. headings.Select(_ => (int?)null)];
        }

        var nodes = bookmarks
            .GetNodes()
            .OfType<DocumentBookmarkNode>()
            .Select(n => (Text: Plain(n.Title), n.PageNumber))
            .ToList();
        var pages = new List<int?>();
        var from = 0;
        foreach (var heading in headings.Select(Plain))
        {
            var at = nodes.FindIndex(from, n => n.Text == heading);
            pages.Add(at < 0 ? null : nodes[at].PageNumber);
            from = at < 0 ? from : at + 1;
        }

        return pages;
    }

    /// <summary>Letters and digits alone: browsers change spaces and marks on the way into an outline.</summary>
    private static string Plain(string text) => string.Concat(text.Where(char.IsLetterOrDigit));
}
