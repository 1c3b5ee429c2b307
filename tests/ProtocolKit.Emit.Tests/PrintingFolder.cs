using ProtocolKit.Workspace.Printing;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;

namespace ProtocolKit.Emit.Tests;

/// <summary>Prints pages into a folder of its own, which goes with it.</summary>
internal sealed class PrintingFolder : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("protocolkit-tests-");
    private readonly List<PdfDocument> _open = [];
    private int _count;

    public string Path => _folder.FullName;

    /// <summary>The PDF's path.</summary>
    public async Task<string> PdfAsync(string html)
    {
        var page = System.IO.Path.Combine(_folder.FullName, $"{_count++}.html");
        var pdf = System.IO.Path.ChangeExtension(page, ".pdf");
        await File.WriteAllTextAsync(page, html);
        var result = await PdfPrinter.OfThisMachine().PrintAsync(page, pdf);
        Assert.True(result.Printed, result.Message);
        return pdf;
    }

    public async Task<IReadOnlyList<Page>> PrintAsync(Artefact page)
    {
        var document = PdfDocument.Open(await PdfAsync(page.Text));
        _open.Add(document);
        return document.GetPages().ToList();
    }

    public void Dispose()
    {
        _open.ForEach(d => d.Dispose());
        _folder.Delete(recursive: true);
    }
}
