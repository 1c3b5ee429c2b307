using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Emit.Tests.Paper;

public class PdfPrinterTests
{
    [Fact]
    public async Task Without_a_browser_it_says_so_and_writes_nothing()
    {
        var result = await new PdfPrinter(null).PrintAsync("page.html", "page.pdf");
        Assert.False(result.Printed);
        Assert.True(result.BrowserMissing);
        Assert.Contains("print it there", result.Message, StringComparison.Ordinal);
        Assert.False(File.Exists("page.pdf"));
    }

    [Fact]
    public async Task A_browser_that_does_not_start_is_a_clear_result()
    {
        var result = await new PdfPrinter(Path.Combine(Path.GetTempPath(), "no-such-browser")).PrintAsync(
            "page.html",
            "page.pdf"
        );
        Assert.False(result.Printed);
        Assert.False(result.BrowserMissing);
        Assert.Contains("could not be started", result.Message, StringComparison.Ordinal);
    }

    [BrowserFact]
    public async Task One_that_takes_too_long_is_stopped_and_an_earlier_file_stays()
    {
        var folder = Directory.CreateTempSubdirectory("protocolkit-tests-");
        try
        {
            var html = Path.Combine(folder.FullName, "page.html");
            var pdf = Path.Combine(folder.FullName, "page.pdf");
            await File.WriteAllTextAsync(html, "<p>page");
            await File.WriteAllTextAsync(pdf, "earlier");
            var result = await PdfPrinter.OfThisMachine().PrintAsync(html, pdf, TimeSpan.FromMilliseconds(1));
            Assert.False(result.Printed);
            Assert.Contains("took longer", result.Message, StringComparison.Ordinal);
            Assert.Equal("earlier", await File.ReadAllTextAsync(pdf));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
