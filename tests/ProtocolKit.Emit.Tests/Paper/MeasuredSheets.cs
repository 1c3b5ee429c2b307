using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Core;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>A rectangle that was drawn with a line around it; millimetres from the lower left corner of its page.</summary>
internal sealed record DrawnBox(
    int Page,
    double Left,
    double Bottom,
    double Width,
    double Height,
    double Line
);

/// <summary>A horizontal or vertical line, drawn as a filled sliver.</summary>
internal sealed record DrawnLine(int Page, double Left, double Bottom, double Width, double Height)
{
    public double Thickness => Math.Min(Width, Height);
}

/// <summary>The example's record sheets in every way they may be asked for, printed once and measured by all tests.</summary>
public sealed class MeasuredSheets : IDisposable
{
    private readonly PrintingFolder _folder = new();
    private readonly Dictionary<string, MeasuredSheet> _sheets = new(StringComparer.Ordinal);

    internal static IReadOnlyList<(string Name, OutputOptions Options)> Ways { get; } =
    [
        ("A4", OutputOptions.Default),
        (
            "Letter for a left-handed writer",
            new OutputOptions
            {
                Paper = PaperSize.Letter,
                LeftHanded = true,
                RecordCode = "QC-0417",
            }
        ),
        ("short form for one age", new OutputOptions { ShortForm = true, Age = new Age(63) }),
    ];

    internal async Task<MeasuredSheet> OfAsync(string name)
    {
        if (!_sheets.TryGetValue(name, out var sheet))
        {
            var options = Ways.Single(w => w.Name == name).Options;
            var page = new RecordSheet().Render(Tests.Example.Protocol, options, TemplateSource.BuiltIn)[0];
            _sheets[name] = sheet = new MeasuredSheet(await _folder.PdfAsync(page.Text), options);
        }

        return sheet;
    }

    public void Dispose()
    {
        foreach (var sheet in _sheets.Values)
        {
            sheet.Document.Dispose();
        }

        _folder.Dispose();
    }
}

/// <summary>One printed sheet: its words by one reader, its lines by another.</summary>
internal sealed class MeasuredSheet
{
    public MeasuredSheet(string pdf, OutputOptions options)
    {
        (Pdf, Options) = (pdf, options);
        (Pages, Words) = Poppler.Words(pdf);
        Document = PdfDocument.Open(pdf);
        foreach (var page in Document.GetPages())
        {
            foreach (var path in page.Paths)
            {
                Add(page.Number, path);
            }
        }
    }

    public string Pdf { get; }
    public OutputOptions Options { get; }
    public int Pages { get; }
    public IReadOnlyList<PlacedWord> Words { get; }
    public PdfDocument Document { get; }
    public List<DrawnBox> Boxes { get; } = [];
    public List<DrawnLine> Lines { get; } = [];

    /// <summary>Boxes to write into, circle or tick: everything drawn smaller than a task but the mark of touch at its head.</summary>
    public IEnumerable<DrawnBox> AnswerBoxes =>
        Boxes.Where(b => b is { Width: < 36, Height: < 14 } && !IsMark(b));

    private bool IsMark(DrawnBox box)
    {
        var height = Document.GetPage(box.Page).Height * PrintedPages.MillimetresPerPoint;
        return Words.Any(w =>
            w.Page == box.Page
            && w.Text == "touches"
            && w.Left > box.Left
            && w.Right < box.Left + box.Width
            && height - w.Top < box.Bottom + box.Height + 1
            && height - w.Bottom > box.Bottom - 1
        );
    }

    private void Add(int page, UglyToad.PdfPig.Graphics.PdfPath path)
    {
        if (path.IsClipping || path.GetBoundingRectangle() is not { } box)
        {
            return;
        }

        var (width, height) = (Mm(box.Width), Mm(box.Height));
        if (path.IsStroked && path.All(s => s.IsDrawnAsRectangle) && width > 2 && height > 2)
        {
            // Browsers draw in pixels of 0.75 pt and scale the whole page to points.
            Boxes.Add(new(page, Mm(box.Left), Mm(box.Bottom), width, height, path.LineWidth * 0.75));
        }
        else if (path.IsFilled && Math.Min(width, height) < 1 && Math.Max(width, height) > 2)
        {
            Lines.Add(new(page, Mm(box.Left), Mm(box.Bottom), width, height));
        }
    }

    private static double Mm(double points) => points * PrintedPages.MillimetresPerPoint;
}
