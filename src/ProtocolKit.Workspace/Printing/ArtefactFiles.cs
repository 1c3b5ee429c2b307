using ProtocolKit.Emit;
using ProtocolKit.Emit.Manual;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Workspace.Printing;

/// <summary>Writes artefacts into an output folder and prints those made for paper, where a browser is installed.</summary>
public sealed class ArtefactFiles(OutputFolder target, bool printPdf)
{
    private readonly List<string> _remarks = [];

    /// <summary>Things to know, such as a missing browser; each once.</summary>
    public IReadOnlyList<string> Remarks => [.. _remarks.Distinct()];

    /// <returns>The names of what was written: the file, and its PDF where one was printed.</returns>
    public IReadOnlyList<string> Write(Artefact artefact)
    {
        ArgumentNullException.ThrowIfNull(artefact);
        if (artefact.Bytes is { } bytes)
        {
            target.Write(artefact.FileName, bytes);
        }
        else
        {
            target.Write(artefact.FileName, artefact.Text);
        }

        if (!printPdf || !artefact.IsPrintable)
        {
            return [artefact.FileName];
        }

        var pdf = Path.ChangeExtension(artefact.FileName, ".pdf");
        if (!Print(artefact.FileName, pdf))
        {
            return [artefact.FileName];
        }

        Number(artefact, pdf);
        if (MissingLetters.In(artefact.Text, target.Reserve(pdf)) is { Length: > 0 } letters)
        {
            _remarks.Add(
                $"This machine has no typeface for {letters}: they are empty boxes in {pdf}. Install one, or print the page elsewhere."
            );
        }

        return [artefact.FileName, pdf];
    }

    /// <summary>
    /// Contents get their page numbers: the browser can't know them while it lays a page out, so they are read from the first
    /// print's outline, written into the page, and the page is printed again. Their column is as wide as any number, so the second
    /// print breaks its pages where the first did.
    /// </summary>
    private void Number(Artefact artefact, string pdf)
    {
        if (artefact.Contents.Count == 0)
        {
            return;
        }

        var pages = HeadingPages.Of(target.Reserve(pdf), artefact.Contents);
        target.Write(artefact.FileName, ContentsMark.Fill(artefact.Text, pages));
        if (
            Print(artefact.FileName, pdf)
            && !HeadingPages.Of(target.Reserve(pdf), artefact.Contents).SequenceEqual(pages)
        )
        {
            _remarks.Add(
                $"The page numbers in the contents of {artefact.FileName} may be off: print it again from a browser."
            );
        }
    }

    private bool Print(string page, string pdf)
    {
        var result = PdfPrinter
            .OfThisMachine()
            .PrintAsync(target.Reserve(page), target.Reserve(pdf))
            .GetAwaiter()
            .GetResult();
        if (!result.Printed)
        {
            _remarks.Add(result.Message);
        }

        return result.Printed;
    }
}
