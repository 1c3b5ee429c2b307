using ProtocolKit.Emit.Paper;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>What the room asks of a record sheet, measured on the printed example: sizes, spaces, and what stands where.</summary>
public class SheetOnPaperTests(MeasuredSheets sheets) : IClassFixture<MeasuredSheets>
{
    /// <summary>A face's ascent and descent together, as a multiple of its size (Liberation Sans: 0.905 and 0.212).</summary>
    private const double FaceHeight = 1.117;

    private const double Point = PrintedPages.MillimetresPerPoint;

    [MeasuredFact]
    public async Task Text_has_eleven_points_at_least_and_its_typeface_travels_with_the_file()
    {
        await Each(sheet =>
        {
            var smallest = sheet.Words.MinBy(w => w.Bottom - w.Top)!;
            Assert.True(
                smallest.Bottom - smallest.Top >= 11 * FaceHeight * Point * 0.995,
                $"“{smallest.Text}” on page {smallest.Page} is {(smallest.Bottom - smallest.Top) / Point / FaceHeight:0.00} pt"
            );
            Assert.All(Poppler.Fonts(sheet.Pdf), f => Assert.True(f.Embedded, f.Name));
        });
    }

    [MeasuredFact]
    public async Task Answer_boxes_measure_ten_millimetres_at_least_and_rows_twelve()
    {
        await Each(sheet =>
        {
            var boxes = sheet.AnswerBoxes.ToList();
            Assert.True(boxes.Count > 200, $"only {boxes.Count} boxes were found");
            Assert.All(
                boxes,
                b =>
                    Assert.True(
                        b is { Width: >= 10, Height: >= 10 },
                        $"{b.Width:0.00} x {b.Height:0.00} mm on page {b.Page}"
                    )
            );
            foreach (var column in boxes.GroupBy(b => (b.Page, Left: Math.Round(b.Left))))
            {
                var rows = column.Select(b => b.Bottom).Order().ToList();
                Assert.All(
                    rows.Zip(rows.Skip(1)),
                    r =>
                        Assert.True(
                            r.Second - r.First >= 11.98,
                            $"rows {r.Second - r.First:0.00} mm apart on page {column.Key.Page}"
                        )
                );
            }
        });
    }

    [MeasuredFact]
    public async Task No_line_is_thinner_than_three_quarters_of_a_point_and_none_is_tinted()
    {
        await Each(sheet =>
        {
            Assert.All(
                sheet.Lines,
                l =>
                    Assert.True(
                        l.Thickness / Point >= 0.745,
                        $"{l.Thickness / Point:0.000} pt on page {l.Page}"
                    )
            );
            Assert.All(sheet.Boxes, b => Assert.True(b.Line >= 0.745, $"{b.Line:0.000} pt on page {b.Page}"));
            var colours = sheet
                .Document.GetPages()
                .SelectMany(p => p.Paths)
                .SelectMany(p =>
                    new[] { p.IsStroked ? p.StrokeColor : null, p.IsFilled ? p.FillColor : null }
                )
                .OfType<UglyToad.PdfPig.Graphics.Colors.IColor>()
                .Select(c => c.ToRGBValues())
                .Distinct();
            Assert.All(colours, c => Assert.True(c is (0, 0, 0) or (1, 1, 1), $"{c}"));
        });
    }

    [MeasuredFact]
    public async Task No_task_is_split_and_each_has_its_frame_on_one_page()
    {
        await Each(sheet =>
        {
            var tasks = TaskViews.Given(Tests.Example.Protocol, sheet.Options);
            var paper = PaperGeometry.Of(sheet.Options.Paper);
            var frames = sheet.Boxes.Where(b => b.Width > paper.ContentWidth - 3 && b.Height > 18).ToList();
            Assert.Equal(tasks.Count, frames.Count);
        });
    }

    [MeasuredFact]
    public async Task Twenty_five_millimetres_at_the_top_are_white()
    {
        await Each(sheet =>
        {
            for (var page = 1; page <= sheet.Pages; page += 4)
            {
                var grey = Poppler.Render(sheet.Pdf, page, 72);
                Assert.Equal(0, grey.Dark(0, 0, 400, 24.8));
                Assert.True(grey.Dark(0, 24.8, 400, 400) > 100);
            }
        });
    }

    [MeasuredFact]
    public async Task The_column_for_the_childs_right_stands_at_the_left_of_the_page_for_both_hands()
    {
        await Each(sheet =>
        {
            var pairs = 0;
            foreach (var page in sheet.Words.GroupBy(w => w.Page))
            {
                var words = page.ToList();
                foreach (var right in After(words, "Child’s", "right"))
                {
                    var left = After(words, "Child’s", "left")
                        .Where(l => Math.Abs(l.Top - right.Top) < 1)
                        .ToList();
                    if (left.Count == 1 && left[0].Left - right.Left > 40)
                    {
                        pairs++;
                    }
                    else
                    {
                        Assert.Fail(
                            $"page {page.Key}: no column for the child's left to the right of the right's"
                        );
                    }
                }
            }

            Assert.Equal(TaskViews.Given(Tests.Example.Protocol, sheet.Options).Count(t => t.IsSided), pairs);
        });
    }

    [MeasuredFact]
    public async Task Every_page_ends_with_code_number_edition_fingerprint_and_legend()
    {
        await Each(sheet =>
        {
            var paper = PaperGeometry.Of(sheet.Options.Paper);
            for (var page = 1; page <= sheet.Pages; page++)
            {
                var foot = string.Join(
                    ' ',
                    sheet
                        .Words.Where(w => w.Page == page && w.Top > paper.Height - PaperGeometry.FootMargin)
                        .OrderBy(w => w.Top)
                        .ThenBy(w => w.Left)
                        .Select(w => w.Text.Replace('\u00A0', ' '))
                );
                Assert.Contains($"Page {page} of {sheet.Pages}", foot, StringComparison.Ordinal);
                Assert.Contains("edition 1.0", foot, StringComparison.Ordinal);
                Assert.Contains(
                    Words.Grouped(Tests.Example.Protocol.Fingerprints.Form),
                    foot,
                    StringComparison.Ordinal
                );
                Assert.Contains("Record code", foot, StringComparison.Ordinal);
                Assert.All(
                    UntriedCodes.All,
                    c => Assert.Contains($"{c.Letter} {c.Words}", foot, StringComparison.Ordinal)
                );
            }
        });
    }

    [MeasuredFact]
    public async Task For_a_left_handed_writer_codes_and_ticks_change_sides_and_the_code_box_too()
    {
        var right = await sheets.OfAsync("A4");
        var left = await sheets.OfAsync("Letter for a left-handed writer");
        Assert.True(CodeBox(right).Left < 30);
        Assert.True(CodeBox(left).Left > 90);
        Assert.True(Seen(right).Average() > 120, $"{Seen(right).Average()}");
        Assert.True(Seen(left).Average() < 90, $"{Seen(left).Average()}");
    }

    [MeasuredFact]
    public async Task Nothing_in_it_tells_what_a_value_means_or_who_the_child_is()
    {
        await Each(sheet =>
        {
            var text = string.Join(' ', sheet.Words.Select(w => w.Text));
            foreach (var band in Tests.Example.Protocol.Bands)
            {
                Assert.DoesNotContain(band.Text, text, StringComparison.OrdinalIgnoreCase);
            }

            Assert.DoesNotMatch(
                "(?i)provisional|cut-off|\\bpass(ed)?\\b|\\bfail|child’s name|birth ?day|earlier result|other rater",
                text
            );
            Assert.Matches("No name and no birth date on this sheet", text);
            Assert.DoesNotContain(
                text.EnumerateRunes(),
                r => r.Value is 0x2639 or 0x263A or 0x263B or (>= 0x1F600 and <= 0x1F64F)
            );
        });
    }

    [MeasuredFact]
    public async Task Two_copies_in_black_and_white_lose_no_word_and_no_line()
    {
        await Each(sheet =>
        {
            foreach (var page in new[] { 1, sheet.Pages / 2, sheet.Pages })
            {
                var original = Poppler.Render(sheet.Pdf, page, 200);
                var copy = original.Copied().Copied();
                foreach (var word in sheet.Words.Where(w => w.Page == page))
                {
                    var (ink, kept) = (Ink(original, word), Ink(copy, word));
                    Assert.True(
                        kept >= ink * 0.5 && kept > 0,
                        $"“{word.Text}” on page {page}: {kept} of {ink} dots"
                    );
                }

                var height = original.Height / (double)original.DotsPerInch * 25.4;
                foreach (var line in sheet.Lines.Where(l => l.Page == page && l.Width > l.Height))
                {
                    Assert.True(
                        IsUnbroken(copy, line, height),
                        $"a line of {line.Width:0} mm on page {page}"
                    );
                }
            }
        });
    }

    private async Task Each(Action<MeasuredSheet> check)
    {
        foreach (var (name, _) in MeasuredSheets.Ways)
        {
            check(await sheets.OfAsync(name));
        }
    }

    /// <summary>The second of two words in a row, but not where a sentence about the order of giving goes on with “first”.</summary>
    private static IEnumerable<PlacedWord> After(List<PlacedWord> words, string first, string second) =>
        Enumerable
            .Range(0, words.Count - 2)
            .Where(i =>
                words[i].Text == first && words[i + 1].Text == second && words[i + 2].Text != "first."
            )
            .Select(i => words[i + 1]);

    private static DrawnBox CodeBox(MeasuredSheet sheet) =>
        sheet.Boxes.First(b => b.Page == 1 && b.Bottom < PaperGeometry.FootMargin && b.Width > 45);

    private static List<double> Seen(MeasuredSheet sheet) =>
        sheet.Words.Where(w => w.Text == "seen").Select(w => w.Left).ToList();

    private static int Ink(GreyPage page, PlacedWord word) =>
        page.Dark(word.Left, word.Top, word.Right, word.Bottom);

    /// <summary>Nineteen of twenty dots along its middle are black, a dot up or down allowed.</summary>
    private static bool IsUnbroken(GreyPage page, DrawnLine line, double height)
    {
        var y = page.Dot(height - line.Bottom - (line.Height / 2));
        var (from, to) = (page.Dot(line.Left) + 2, page.Dot(line.Left + line.Width) - 2);
        var dark = Enumerable
            .Range(from, Math.Max(0, to - from))
            .Count(x => Enumerable.Range(y - 2, 5).Any(row => page.IsDark(x, row)));
        return dark >= (to - from) * 0.95;
    }
}
