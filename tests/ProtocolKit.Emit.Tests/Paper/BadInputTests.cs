using ProtocolKit.Emit.Manual;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Workspace.Files;
using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>Pages stay whole whatever an author writes: markup, other scripts, one task, three hundred, an endless instruction.</summary>
public sealed class BadInputTests : IDisposable
{
    private static readonly string Long = string.Concat(
        Enumerable.Repeat("Point your tongue at the little red lamp. ", 15)
    )[..600];
    private readonly PrintingFolder _folder = new();

    public static IReadOnlyList<(string What, Protocol Protocol)> Cases { get; } =
    [
        ("markup", Named("<b>Tip</b> & \"nose\" </style>")),
        ("right to left", Named("הרם את הלשון אל האף لسان")),
        ("Chinese, Japanese, Korean", Named("把舌头伸向鼻子 したを はなに 혀를 코로")),
        ("a word of 200 letters", Named(new string('m', 200))),
        ("one task", SampleProtocol.Of([Sample(1, "Only one")])),
        (
            "an instruction of 600 characters",
            SampleProtocol.Of([Sample(1, "Long") with { Variants = [new("", "", [Long], [Long])] }])
        ),
    ];

    [BrowserFact]
    public async Task No_letter_leaves_its_page_or_its_card()
    {
        foreach (var (what, protocol) in Cases)
        {
            foreach (
                var output in new IOutput[]
                {
                    new RecordSheet(),
                    new CueCards(),
                    new CaseHistory(),
                    new ExaminerManual(),
                }
            )
            {
                var page = output.Render(protocol, OutputOptions.Default, TemplateSource.BuiltIn)[0];
                var pages = await _folder.PrintAsync(page);
                Assert.NotEmpty(pages);
                foreach (
                    var letter in pages.SelectMany(p =>
                        p.Letters.Where(l => !string.IsNullOrWhiteSpace(l.Value))
                    )
                )
                {
                    var box = letter.BoundingBox;
                    Assert.True(
                        box.Left > 10
                            && box.Right < pages[0].Width - 10
                            && box.Bottom > 10
                            && box.Top < pages[0].Height - 10,
                        $"{what}, {output.Kind}: “{letter.Value}” at {box}"
                    );
                }

                if (output is CueCards)
                {
                    AssertOnCards(what, pages);
                }
            }
        }
    }

    [BrowserFact]
    public void Letters_of_other_scripts_are_on_paper_or_told_to_be_missing()
    {
        var folder = Directory.CreateTempSubdirectory("protocolkit-tests-");
        try
        {
            // Hebrew is in the typeface that pages are measured in; the letter of Pahawh Hmong hardly anywhere.
            foreach (var (title, missing) in new[] { ("הרם את הלשון", ""), ("Tip \U00016B00", "\U00016B00") })
            {
                using var target = new OutputFolder(folder.FullName);
                var files = new ArtefactFiles(target, printPdf: true);
                var protocol = SampleProtocol.Of([Sample(1, title)]);
                files.Write(
                    new RecordSheet().Render(protocol, OutputOptions.Default, TemplateSource.BuiltIn)[0]
                );
                Assert.Equal(missing.Length > 0 ? 1 : 0, files.Remarks.Count);
                Assert.All(
                    files.Remarks,
                    r => Assert.Contains($"no typeface for {missing}", r, StringComparison.Ordinal)
                );
            }
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [BrowserFact]
    public async Task Three_hundred_tasks_print_and_none_is_split()
    {
        var protocol = SampleProtocol.Of(
            Enumerable
                .Range(1, 300)
                .Select(i =>
                    SampleProtocol.Full.Tasks[i % SampleProtocol.Full.Tasks.Count] with
                    {
                        Number = i,
                        Name = $"task-{i}",
                        Title = $"TOP{i}",
                        Note = $"NOTE{i}",
                    }
                )
                .ToList()
        );
        var pages = await _folder.PrintAsync(
            new RecordSheet().Render(protocol, OutputOptions.Default, TemplateSource.BuiltIn)[0]
        );
        var words = pages
            .SelectMany(p => p.GetWords().Select(w => (w.Text, p.Number)))
            .ToLookup(w => w.Text, w => w.Number);
        for (var i = 1; i <= 300; i++)
        {
            Assert.Equal(Assert.Single(words[$"TOP{i}"]), Assert.Single(words[$"NOTE{i}"]));
        }

        foreach (var output in new IOutput[] { new CueCards(), new ExaminerManual() })
        {
            Assert.Contains(
                "TOP300",
                output.Render(protocol, OutputOptions.Default, TemplateSource.BuiltIn)[0].Text,
                StringComparison.Ordinal
            );
        }
    }

    [BrowserFact]
    public async Task A_long_instruction_goes_on_over_cards_and_loses_no_word()
    {
        var protocol = Cases.Single(c => c.What == "an instruction of 600 characters").Protocol;
        var pages = await _folder.PrintAsync(
            new CueCards().Render(protocol, OutputOptions.Default, TemplateSource.BuiltIn)[0]
        );
        var count = pages.SelectMany(p => p.GetWords()).Count(w => w.Text == "lamp.");

        // Said and shown: each of the two has the sentence fourteen times whole.
        Assert.Equal(28, count);
    }

    [BrowserFact]
    public async Task Without_the_typeface_another_one_keeps_the_page_whole()
    {
        foreach (var output in new IOutput[] { new RecordSheet(), new CueCards() })
        {
            var html = output
                .Render(SampleProtocol.Full, OutputOptions.Default, TemplateSource.BuiltIn)[0]
                .Text;
            var other = html.Replace(
                "Arial, Helvetica, \"Liberation Sans\", sans-serif",
                "\"No such face\", serif",
                StringComparison.Ordinal
            );
            Assert.NotEqual(html, other);
            var pages = await _folder.PrintAsync(new Artefact("page.html", other));
            foreach (
                var letter in pages.SelectMany(p => p.Letters.Where(l => !string.IsNullOrWhiteSpace(l.Value)))
            )
            {
                Assert.True(letter.BoundingBox.Right < pages[0].Width - 10 && letter.BoundingBox.Bottom > 10);
            }
        }
    }

    public void Dispose() => _folder.Dispose();

    private static void AssertOnCards(string what, IReadOnlyList<UglyToad.PdfPig.Content.Page> pages)
    {
        var paper = PaperGeometry.Of(PaperSize.A4);
        foreach (
            var letter in pages.SelectMany(p => p.Letters.Where(l => !string.IsNullOrWhiteSpace(l.Value)))
        )
        {
            var (left, right) = (
                Place(letter.BoundingBox.Left, paper.CardWidth),
                Place(letter.BoundingBox.Right, paper.CardWidth)
            );
            Assert.True(
                left >= 5 && right <= paper.CardWidth - 5,
                $"{what}: “{letter.Value}” from {left:0.0} to {right:0.0} mm of its card"
            );
        }
    }

    private static double Place(double points, double size) =>
        points * PrintedPages.MillimetresPerPoint % size;

    private static ProtocolTask Sample(int number, string title) =>
        SampleProtocol.Full.Tasks[0] with
        {
            Number = number,
            Title = title,
        };

    /// <summary>A protocol in which every text a child or examiner meets is this one.</summary>
    private static Protocol Named(string text)
    {
        var task = Sample(1, text) with
        {
            Variants = [new("", "", [text], [text])],
            Note = text,
            StopWhen = [text],
        };
        return SampleProtocol.Of([task]) with { Title = text, Purpose = text };
    }
}
