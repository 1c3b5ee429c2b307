using System.Text.RegularExpressions;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>The paper of the complete example, as a clinic would print it.</summary>
public class ExampleTests(PrintedPages printed) : IClassFixture<PrintedPages>
{
    private static readonly Protocol Example = Tests.Example.Protocol;

    [Theory]
    [InlineData(PaperSize.A4, false)]
    [InlineData(PaperSize.A4, true)]
    [InlineData(PaperSize.Letter, false)]
    [InlineData(PaperSize.Letter, true)]
    public void Every_answer_and_observation_of_its_program_has_its_boxes(PaperSize paper, bool shortForm)
    {
        var options = new OutputOptions { Paper = paper, ShortForm = shortForm };
        var html = new RecordSheet().Render(Example, options, TemplateSource.BuiltIn)[0].Text;
        var program = Example.Program;
        Assert.Equal(
            program
                .Answers.Where(a => !shortForm || a.Task.ShortForm)
                .Select(a => a.Key)
                .Order(StringComparer.Ordinal),
            Keys(html, "data-answer")
        );
        Assert.Equal(
            program
                .Observations.Where(o => !shortForm || o.Task.ShortForm)
                .Select(o => o.Key)
                .Order(StringComparer.Ordinal),
            Keys(html, "data-observation")
        );
    }

    [Fact]
    public void What_the_author_says_of_a_duty_is_said_once()
    {
        var html = new RecordSheet().Render(Example, OutputOptions.Default, TemplateSource.BuiltIn)[0].Text;
        var first = html[..html.IndexOf("data-task=", StringComparison.Ordinal)];
        foreach (var duty in Duties.All)
        {
            Assert.Equal(2, first.Split(HtmlContext.Escape(duty.In(Example))).Length);
        }
    }

    [BrowserFact]
    public async Task It_prints_on_both_papers_with_nothing_out_of_place()
    {
        foreach (var size in Enum.GetValues<PaperSize>())
        {
            var paper = PaperGeometry.Of(size);
            var sheet = await printed.PrintAsync("record-sheet", Example, new() { Paper = size });
            Assert.All(Letters(sheet), l => Assert.True(l.PointSize > 10.9));
            Assert.All(
                sheet.Select(p => p.Height - p.Letters.Max(l => l.BoundingBox.Top)),
                clear => Assert.True(clear * PrintedPages.MillimetresPerPoint >= 25)
            );

            var cards = await printed.PrintAsync("cue-cards", Example, new() { Paper = size });
            Assert.True(cards.Count % 2 == 0, "a front without its back");
            foreach (var letter in Letters(cards))
            {
                var top = letter.BoundingBox.Top * PrintedPages.MillimetresPerPoint % paper.CardHeight;
                var bottom = letter.BoundingBox.Bottom * PrintedPages.MillimetresPerPoint % paper.CardHeight;
                Assert.True(
                    bottom >= PaperGeometry.CardMargin - 0.5
                        && top <= paper.CardHeight - PaperGeometry.CardMargin + 0.5
                );
            }
        }
    }

    private static IEnumerable<UglyToad.PdfPig.Content.Letter> Letters(
        IReadOnlyList<UglyToad.PdfPig.Content.Page> pages
    ) => pages.SelectMany(p => p.Letters).Where(l => !string.IsNullOrWhiteSpace(l.Value));

    private static List<string> Keys(string html, string attribute) =>
        Regex
            .Matches(html, attribute + "=\"([^\"]*)\"")
            .Select(m => m.Groups[1].Value)
            .Order(StringComparer.Ordinal)
            .ToList();
}
