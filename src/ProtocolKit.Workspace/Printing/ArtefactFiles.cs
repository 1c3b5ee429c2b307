using ProtocolKit.Emit;
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
        var result = PdfPrinter
            .OfThisMachine()
            .PrintAsync(target.Reserve(artefact.FileName), target.Reserve(pdf))
            .GetAwaiter()
            .GetResult();
        if (result.Printed)
        {
            return [artefact.FileName, pdf];
        }

        _remarks.Add(result.Message);
        return [artefact.FileName];
    }
}
