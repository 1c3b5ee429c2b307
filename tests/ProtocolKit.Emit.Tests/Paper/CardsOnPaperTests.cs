using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>What the room asks of cue cards, measured on the printed example.</summary>
public sealed class CardsOnPaperTests : IDisposable
{
    private const double FaceHeight = 1.117;
    private readonly PrintingFolder _folder = new();

    public static TheoryData<PaperSize, bool> Ways =>
        new() { { PaperSize.A4, false }, { PaperSize.Letter, true } };

    [MeasuredFact]
    public async Task Spoken_words_have_sixteen_points_and_the_rest_twelve()
    {
        var (_, words) = Poppler.Words(await PdfAsync(PaperSize.A4, false));
        var sizes = words
            .Select(w => (w, Size: (w.Bottom - w.Top) / PrintedPages.MillimetresPerPoint / FaceHeight))
            .ToList();
        Assert.All(sizes, s => Assert.True(s.Size >= 11.95, $"“{s.w.Text}” has {s.Size:0.0} pt"));

        // Each spoken line, word by word: its first word stands in curly quotes and nothing else does.
        var spoken = sizes
            .Where(s => s.w.Text.StartsWith('“') && !s.w.Text.Contains('”', StringComparison.Ordinal))
            .ToList();
        Assert.True(spoken.Count(s => s.Size >= 15.95) >= Tests.Example.Protocol.Tasks.Count * 0.9);
    }

    [MeasuredFact]
    public async Task Six_millimetres_at_the_rim_of_every_card_are_white()
    {
        foreach (var size in Enum.GetValues<PaperSize>())
        {
            var paper = PaperGeometry.Of(size);
            var pdf = await PdfAsync(size, false);
            for (var page = 1; page <= 8; page++)
            {
                var grey = Poppler.Render(pdf, page, 100);
                foreach (
                    var (x, y) in new[]
                    {
                        (0.0, 0.0),
                        (paper.CardWidth, 0),
                        (0, paper.CardHeight),
                        (paper.CardWidth, paper.CardHeight),
                    }
                )
                {
                    // Half a millimetre inside, where the line to cut along ends.
                    var (right, bottom) = (x + paper.CardWidth, y + paper.CardHeight);
                    Assert.Equal(0, grey.Dark(x + 0.5, y + 0.5, right - 0.5, y + 5.8));
                    Assert.Equal(0, grey.Dark(x + 0.5, bottom - 5.8, right - 0.5, bottom - 0.5));
                    Assert.Equal(0, grey.Dark(x + 0.5, y + 0.5, x + 5.8, bottom - 0.5));
                    Assert.Equal(0, grey.Dark(right - 5.8, y + 0.5, right - 0.5, bottom - 0.5));
                }
            }
        }
    }

    [MeasuredFact]
    public async Task Turned_over_the_back_of_every_card_lies_behind_its_front()
    {
        foreach (var (size, shortEdge) in Ways.Select(w => ((PaperSize)w[0], (bool)w[1])))
        {
            var paper = PaperGeometry.Of(size);
            var pages = CueCards
                .View(Tests.Example.Protocol, new() { Paper = size, ShortEdge = shortEdge })
                .Pages;
            var (count, words) = Poppler.Words(await PdfAsync(size, shortEdge));
            Assert.Equal(pages.Count, count);
            var pairs = 0;
            for (var sheet = 0; sheet < pages.Count; sheet += 2)
            {
                foreach (var front in Titles(words, sheet + 1, paper))
                {
                    // Over the long edge left and right change places, over the short edge above and below.
                    var (column, row) = shortEdge
                        ? (front.Column, 1 - front.Row)
                        : (1 - front.Column, front.Row);
                    var back = Titles(words, sheet + 2, paper)
                        .Single(b => (b.Column, b.Row) == (column, row));
                    Assert.Equal(front.Title, back.Title);
                    pairs++;
                }
            }

            Assert.True(pairs > Tests.Example.Protocol.Tasks.Count, $"only {pairs} cards");
        }
    }

    public void Dispose() => _folder.Dispose();

    /// <summary>The first line of each quarter of a page.</summary>
    private static IEnumerable<(int Column, int Row, string Title)> Titles(
        IReadOnlyList<PlacedWord> words,
        int page,
        PaperGeometry paper
    ) =>
        words
            .Where(w => w.Page == page)
            .GroupBy(w => (Column: w.Left < paper.CardWidth ? 0 : 1, Row: w.Top < paper.CardHeight ? 0 : 1))
            .Select(g =>
            {
                var top = g.Min(w => w.Top);
                return (
                    g.Key.Column,
                    g.Key.Row,
                    string.Join(' ', g.Where(w => w.Top - top < 2).OrderBy(w => w.Left).Select(w => w.Text))
                );
            });

    private Task<string> PdfAsync(PaperSize size, bool shortEdge)
    {
        var options = new OutputOptions { Paper = size, ShortEdge = shortEdge };
        return _folder.PdfAsync(
            new CueCards().Render(Tests.Example.Protocol, options, TemplateSource.BuiltIn)[0].Text
        );
    }
}
