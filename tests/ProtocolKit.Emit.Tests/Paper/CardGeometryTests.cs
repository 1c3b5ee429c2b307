using ProtocolKit.Emit.Paper;
using UglyToad.PdfPig.Content;

namespace ProtocolKit.Emit.Tests.Paper;

public class CardGeometryTests(PrintedPages printed) : IClassFixture<PrintedPages>
{
    [BrowserFact]
    public async Task Spoken_words_have_sixteen_points_and_all_else_twelve()
    {
        var pages = await printed.PrintAsync("cue-cards", GeometryProtocol.Value, OutputOptions.Default);
        var letters = pages
            .SelectMany(p => p.Letters)
            .Where(l => !string.IsNullOrWhiteSpace(l.Value))
            .ToList();
        Assert.True(letters.Min(l => l.PointSize) > 11.9);
        var spoken = pages
            .SelectMany(p => p.GetWords())
            .Where(w => w.Text.Contains("SPOKEN", StringComparison.Ordinal))
            .ToList();
        Assert.True(spoken.Count >= GeometryProtocol.Count);
        Assert.All(
            spoken.SelectMany(w => w.Letters),
            l => Assert.True(l.PointSize > 15.9, $"{l.Value} {l.PointSize}")
        );
    }

    [BrowserFact]
    public async Task Every_letter_stays_within_its_card_and_off_its_rim()
    {
        foreach (var size in Enum.GetValues<PaperSize>())
        {
            var paper = PaperGeometry.Of(size);
            foreach (var protocol in new[] { GeometryProtocol.Value, SampleProtocol.Full })
            {
                var pages = await printed.PrintAsync("cue-cards", protocol, new() { Paper = size });
                foreach (
                    var letter in pages.SelectMany(p =>
                        p.Letters.Where(l => !string.IsNullOrWhiteSpace(l.Value))
                    )
                )
                {
                    AssertInside(letter.BoundingBox.Left, letter.BoundingBox.Right, paper.CardWidth);
                    AssertInside(letter.BoundingBox.Bottom, letter.BoundingBox.Top, paper.CardHeight);
                }
            }
        }
    }

    [BrowserFact]
    public async Task Text_never_runs_into_the_foot_of_its_card()
    {
        // The foot is the lowest line of a side; nothing else may come within a line of it.
        foreach (var size in Enum.GetValues<PaperSize>())
        {
            var paper = PaperGeometry.Of(size);
            var pages = await printed.PrintAsync("cue-cards", SampleProtocol.Full, new() { Paper = size });
            var feet = 0;
            foreach (var quarter in pages.SelectMany(p => p.GetWords().GroupBy(w => Place(w, paper))))
            {
                var bottoms = quarter
                    .Select(w => Math.Round(w.Letters[0].StartBaseLine.Y, 1))
                    .Distinct()
                    .Order()
                    .ToList();
                var gap = bottoms.Count > 1 ? bottoms[1] - bottoms[0] : 99;
                Assert.True(gap >= 12, $"lines {gap} points apart");
                feet++;
            }

            Assert.True(feet > 20);
        }
    }

    [BrowserFact]
    public async Task Turned_over_the_long_edge_each_back_lies_behind_its_front() =>
        await AssertAligned(new(), place => (1 - place.Column, place.Row));

    [BrowserFact]
    public async Task Turned_over_the_short_edge_each_back_lies_behind_its_front() =>
        await AssertAligned(new() { ShortEdge = true }, place => (place.Column, 1 - place.Row));

    private async Task AssertAligned(
        OutputOptions options,
        Func<(int Column, int Row), (int Column, int Row)> behind
    )
    {
        var paper = PaperGeometry.Of(options.Paper);
        var pages = await printed.PrintAsync("cue-cards", GeometryProtocol.Value, options);
        for (var i = 1; i <= GeometryProtocol.Count; i++)
        {
            var front = Find(pages, GeometryProtocol.Mark("SPOKEN", i));
            var back = Find(pages, GeometryProtocol.Mark("BEHIND", i));
            Assert.True(front.Page % 2 == 1, $"the front of card {i} is on page {front.Page}");
            Assert.Equal(front.Page + 1, back.Page);
            Assert.Equal(behind(Place(front.Word, paper)), Place(back.Word, paper));
        }
    }

    private static (int Page, Word Word) Find(IReadOnlyList<Page> pages, string mark) =>
        pages
            .SelectMany(p => p.GetWords().Select(w => (p.Number, w)))
            .First(found => found.w.Text.Contains(mark, StringComparison.Ordinal));

    /// <summary>Column and row of a quarter, from the lower left.</summary>
    private static (int Column, int Row) Place(Word word, PaperGeometry paper) =>
        (
            word.BoundingBox.Left * PrintedPages.MillimetresPerPoint < paper.CardWidth ? 0 : 1,
            word.BoundingBox.Bottom * PrintedPages.MillimetresPerPoint < paper.CardHeight ? 0 : 1
        );

    private static void AssertInside(double low, double high, double size)
    {
        var from = low * PrintedPages.MillimetresPerPoint % size;
        var to = high * PrintedPages.MillimetresPerPoint % size;
        Assert.True(
            from >= PaperGeometry.CardMargin - 0.5 && to <= size - PaperGeometry.CardMargin + 0.5,
            $"{from} to {to}"
        );
    }
}
