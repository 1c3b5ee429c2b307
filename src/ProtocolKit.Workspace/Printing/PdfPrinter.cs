using System.Diagnostics;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Workspace.Printing;

/// <summary>How printing went.</summary>
/// <param name="Printed">The PDF has been written.</param>
/// <param name="Message">One sentence for the user, also when all went well.</param>
public sealed record PrintResult(bool Printed, bool BrowserMissing, string Message);

/// <summary>
/// Prints an HTML page to PDF with an installed Chromium-family browser. The page is the product; the PDF
/// is the same page on paper, and its bytes differ between runs (dates, object numbers).
/// </summary>
public sealed class PdfPrinter(string? browser)
{
    private static readonly TimeSpan DefaultTimeout = TimeSpan.FromSeconds(120);

    /// <summary>With the first browser that is found on this machine.</summary>
    public static PdfPrinter OfThisMachine() => new(BrowserFinder.Find());

    public bool IsAvailable => browser is not null;

    /// <summary>Prints one page. The PDF appears whole or not at all.</summary>
    /// <param name="htmlFile">An existing file.</param>
    /// <param name="pdfFile">Where the PDF goes; an earlier one is replaced only by a good one.</param>
    public async Task<PrintResult> PrintAsync(
        string htmlFile,
        string pdfFile,
        TimeSpan? timeout = null,
        CancellationToken cancel = default
    )
    {
        if (browser is null)
        {
            return new(
                false,
                true,
                "No PDF was printed: no Chromium, Chrome, Edge or Brave was found. Open the page in any browser and print it there."
            );
        }

        // Everything the browser writes stays in one folder of its own, so that a run leaves nothing behind.
        using var atExit = AtExit.Of(
            () => Directory.CreateTempSubdirectory("protocolkit-print-").FullName,
            Leftovers.Remove,
            out var folder
        );
        try
        {
            var fresh = Path.Combine(folder, "page.pdf");
            var failure = await RunAsync(htmlFile, fresh, folder, timeout ?? DefaultTimeout, cancel);
            if (failure is not null)
            {
                return new(false, false, failure);
            }

            File.Move(fresh, pdfFile, overwrite: true);
            return new(true, false, $"Printed {Path.GetFileName(pdfFile)}.");
        }
        finally
        {
            Leftovers.Remove(folder);
        }
    }

    /// <summary>What the browser is asked; it is to draw one local page and touch nothing else.</summary>
    internal static IReadOnlyList<string> Arguments(
        string htmlFile,
        string pdfFile,
        string folder,
        bool isRoot
    )
    {
        List<string> arguments =
        [
            "--headless",
            "--disable-gpu",
            "--no-first-run",
            "--no-default-browser-check",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--disable-quic",
            "--disable-extensions",
            "--disable-dev-shm-usage",
            $"--user-data-dir={Path.Combine(folder, "profile")}",
            "--no-pdf-header-footer",
            // Headings become the PDF's outline, for readers who jump and for page numbers in contents.
            "--generate-pdf-document-outline",
            $"--print-to-pdf={pdfFile}",
        ];
        if (isRoot)
        {
            // The browser refuses to start its sandbox for root; containers often run as root.
            arguments.Add("--no-sandbox");
        }

        arguments.Add(new Uri(Path.GetFullPath(htmlFile)).AbsoluteUri);
        return arguments;
    }

    private async Task<string?> RunAsync(
        string htmlFile,
        string pdfFile,
        string folder,
        TimeSpan timeout,
        CancellationToken cancel
    )
    {
        var start = new ProcessStartInfo(browser!)
        {
            UseShellExecute = false,
            RedirectStandardError = true,
            RedirectStandardOutput = true,
        };
        foreach (var argument in Arguments(htmlFile, pdfFile, folder, IsRoot()))
        {
            start.ArgumentList.Add(argument);
        }

        try
        {
            using var atExit = AtExit.Of(
                () =>
                    Process.Start(start) ?? throw new InvalidOperationException("The browser did not start."),
                ChildProcess.End,
                out var process
            );
            using (process)
            {
                return await WaitAsync(process, pdfFile, timeout, cancel);
            }
        }
        catch (Exception e) when (e is System.ComponentModel.Win32Exception or InvalidOperationException)
        {
            return $"No PDF was printed: {Path.GetFileName(browser)} could not be started ({e.Message}).";
        }
    }

    private async Task<string?> WaitAsync(
        Process process,
        string pdfFile,
        TimeSpan timeout,
        CancellationToken cancel
    )
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(timeout);
        var errors = process.StandardError.ReadToEndAsync(limit.Token);
        var output = process.StandardOutput.ReadToEndAsync(limit.Token);
        try
        {
            await process.WaitForExitAsync(limit.Token);
            await Task.WhenAll(errors, output);
        }
        catch (OperationCanceledException)
        {
            ChildProcess.End(process);
            cancel.ThrowIfCancellationRequested();
            return $"No PDF was printed: {Path.GetFileName(browser)} took longer than {timeout.TotalSeconds:0} seconds.";
        }

        if (process.ExitCode == 0 && File.Exists(pdfFile) && new FileInfo(pdfFile).Length > 0)
        {
            return null;
        }

        var last =
            (await errors).Split('\n', StringSplitOptions.RemoveEmptyEntries).LastOrDefault()
            ?? "it gave no reason";
        return $"No PDF was printed: {Path.GetFileName(browser)} ended with {process.ExitCode} ({last.Trim()}).";
    }

    private static bool IsRoot() =>
        !OperatingSystem.IsWindows() && string.Equals(Environment.UserName, "root", StringComparison.Ordinal);
}
