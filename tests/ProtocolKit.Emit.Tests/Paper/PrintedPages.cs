using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Workspace.Printing;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>Prints outputs once for all tests and measures their pages.</summary>
public sealed class PrintedPages : IDisposable
{
    public const double MillimetresPerPoint = 25.4 / 72;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("protocolkit-tests-");
    private readonly Dictionary<string, IReadOnlyList<Page>> _printed = new(StringComparer.Ordinal);
    private readonly List<PdfDocument> _open = [];

    /// <summary>The pages of the first file of an output.</summary>
    internal async Task<IReadOnlyList<Page>> PrintAsync(string kind, Protocol protocol, OutputOptions options)
    {
        var key = $"{kind} {options} {protocol.Title}";
        if (!_printed.TryGetValue(key, out var pages))
        {
            var page = Outputs.Find(kind)!.Render(protocol, options, TemplateSource.BuiltIn)[0];
            var html = Path.Combine(_folder.FullName, $"{_printed.Count}.html");
            var pdf = Path.ChangeExtension(html, ".pdf");
            await File.WriteAllTextAsync(html, page.Text);
            var result = await PdfPrinter.OfThisMachine().PrintAsync(html, pdf);
            Assert.True(result.Printed, result.Message);
            var document = PdfDocument.Open(pdf);
            _open.Add(document);
            _printed[key] = pages = document.GetPages().ToList();
        }

        return pages;
    }

    /// <summary>The pages, from 1, on which a word stands.</summary>
    public static IReadOnlyList<int> PagesWith(IReadOnlyList<Page> pages, string word) =>
        pages.Where(p => p.GetWords().Any(w => w.Text == word)).Select(p => p.Number).ToList();

    public void Dispose()
    {
        _open.ForEach(d => d.Dispose());
        _folder.Delete(recursive: true);
    }
}
