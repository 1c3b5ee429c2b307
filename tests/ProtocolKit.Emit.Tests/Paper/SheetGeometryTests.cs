using ProtocolKit.Emit.Paper;

namespace ProtocolKit.Emit.Tests.Paper;

public class SheetGeometryTests(PrintedPages printed) : IClassFixture<PrintedPages>
{
    [BrowserFact]
    public async Task A4_and_Letter_sheets_have_the_size_of_their_paper()
    {
        foreach (
            var (paper, width, height) in new[]
            {
                (PaperSize.A4, 210.0, 297.0),
                (PaperSize.Letter, 215.9, 279.4),
            }
        )
        {
            foreach (var kind in new[] { "record-sheet", "cue-cards", "case-history" })
            {
                var pages = await printed.PrintAsync(kind, GeometryProtocol.Value, new() { Paper = paper });
                Assert.All(
                    pages,
                    p =>
                    {
                        Assert.Equal(width, p.Width * PrintedPages.MillimetresPerPoint, 0.3);
                        Assert.Equal(height, p.Height * PrintedPages.MillimetresPerPoint, 0.3);
                    }
                );
            }
        }
    }

    [BrowserFact]
    public async Task No_task_is_split_between_pages()
    {
        foreach (var paper in Enum.GetValues<PaperSize>())
        {
            var pages = await printed.PrintAsync(
                "record-sheet",
                GeometryProtocol.Value,
                new() { Paper = paper }
            );
            for (var i = 1; i <= GeometryProtocol.Count; i++)
            {
                var top = Assert.Single(PrintedPages.PagesWith(pages, GeometryProtocol.Mark("TOP", i)));
                var note = Assert.Single(PrintedPages.PagesWith(pages, GeometryProtocol.Mark("NOTE", i)));
                Assert.Equal(top, note);
            }
        }
    }

    [BrowserFact]
    public async Task No_letter_on_the_sheet_is_smaller_than_eleven_points()
    {
        var pages = await printed.PrintAsync("record-sheet", GeometryProtocol.Value, OutputOptions.Default);
        var sizes = pages
            .SelectMany(p => p.Letters)
            .Where(l => !string.IsNullOrWhiteSpace(l.Value))
            .Select(l => l.PointSize);
        Assert.True(sizes.Min() > 10.9, $"smallest {sizes.Min()}");
    }

    [BrowserFact]
    public async Task The_top_stays_clear_for_a_clip_and_nothing_leaves_the_paper()
    {
        foreach (var paper in Enum.GetValues<PaperSize>())
        {
            var pages = await printed.PrintAsync(
                "record-sheet",
                GeometryProtocol.Value,
                new() { Paper = paper }
            );
            foreach (var page in pages)
            {
                var top = page.Letters.Max(l => l.BoundingBox.Top);
                Assert.True(
                    (page.Height - top) * PrintedPages.MillimetresPerPoint >= 25,
                    $"page {page.Number}"
                );
                Assert.True(
                    page.Letters.Min(l => l.BoundingBox.Left) * PrintedPages.MillimetresPerPoint >= 11.5
                );
                Assert.True(
                    page.Letters.Max(l => l.BoundingBox.Right)
                        <= page.Width - (11.5 / PrintedPages.MillimetresPerPoint)
                );
            }
        }
    }

    [BrowserFact]
    public async Task Every_page_ends_with_its_number_edition_fingerprint_and_codes()
    {
        var pages = await printed.PrintAsync("record-sheet", GeometryProtocol.Value, OutputOptions.Default);
        foreach (var page in pages)
        {
            var foot = string.Join(
                ' ',
                page.GetWords()
                    .Where(w => w.BoundingBox.Top * PrintedPages.MillimetresPerPoint < 27)
                    .Select(w => w.Text)
            );
            Assert.Contains(
                $"Page {page.Number} of {pages.Count}, edition 1.0, form 0123 4567 89ab cdef",
                foot,
                StringComparison.Ordinal
            );
            Assert.Contains("Record code", foot, StringComparison.Ordinal);
            Assert.All(
                UntriedCodes.All,
                c =>
                    Assert.Contains(
                        $"{c.Letter} {c.Words}",
                        foot.Replace('\u00A0', ' '),
                        StringComparison.Ordinal
                    )
            );
        }
    }

    [BrowserFact]
    public async Task The_estimate_of_a_tasks_height_is_never_below_the_paper()
    {
        // Tasks that follow each other on a page: the distance of their titles is the height of the first.
        var paper = PaperGeometry.Of(PaperSize.A4);
        var pages = await printed.PrintAsync("record-sheet", GeometryProtocol.Value, OutputOptions.Default);
        var tasks = RecordSheet.View(GeometryProtocol.Value, OutputOptions.Default).Tasks;
        var compared = 0;
        for (var i = 1; i < GeometryProtocol.Count; i++)
        {
            if (
                Top(pages, i) is var (page, top)
                && Top(pages, i + 1) is var (next, below)
                && page == next
                && tasks[i].Banner is null
                && tasks[i].Heading is null
            )
            {
                var height = (top - below) * PrintedPages.MillimetresPerPoint;
                Assert.True(
                    SheetHeights.Height(tasks[i - 1], paper) >= height,
                    $"task {i} is {height} mm tall"
                );
                compared++;
            }
        }

        Assert.True(compared >= 5, $"only {compared} could be compared");
    }

    private static (int Page, double Top) Top(IReadOnlyList<UglyToad.PdfPig.Content.Page> pages, int task)
    {
        var page = pages[PrintedPages.PagesWith(pages, GeometryProtocol.Mark("TOP", task))[0] - 1];
        return (
            page.Number,
            page.GetWords().First(w => w.Text == GeometryProtocol.Mark("TOP", task)).BoundingBox.Bottom
        );
    }
}
