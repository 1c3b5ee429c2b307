using ProtocolKit.Emit;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Workspace.Files;
using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Workspace;

/// <param name="Files">What was written, with what it is for.</param>
/// <param name="Refusals">Outputs that can't be made of this protocol, with what to change.</param>
/// <param name="Remarks">Things to know, such as a missing browser.</param>
public sealed record BuildResult(
    IReadOnlyList<(string Name, string Purpose)> Files,
    IReadOnlyList<string> Refusals,
    IReadOnlyList<string> Remarks
);

/// <summary>Renders outputs, prints pages to PDF where a browser is installed, and moves all into place at the end.</summary>
public static class Builder
{
    /// <exception cref="FileProblemException">The folder can't be written.</exception>
    public static BuildResult Build(
        ProtocolFile file,
        IReadOnlyList<IOutput> outputs,
        OutputOptions options,
        string folder,
        bool printPdf
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        var protocol =
            file.Compilation.Protocol
            ?? throw new ArgumentException("The protocol has errors.", nameof(file));
        var templates = TemplateFolder.Beside(file.Path);
        var purposes = new Dictionary<string, string>(StringComparer.Ordinal);
        var (refusals, remarks) = (new List<string>(), new List<string>());
        using var target = new OutputFolder(folder);
        foreach (var output in outputs)
        {
            try
            {
                foreach (var artefact in output.Render(protocol, options, templates))
                {
                    if (artefact.Bytes is { } bytes)
                    {
                        target.Write(artefact.FileName, bytes);
                    }
                    else
                    {
                        target.Write(artefact.FileName, artefact.Text);
                    }

                    purposes[artefact.FileName] = output.Purpose;
                    if (printPdf && artefact.IsPrintable)
                    {
                        Pdf(target, artefact, output, purposes, remarks);
                    }
                }
            }
            catch (Exception e) when (e is OutputRefusedException or TemplateFaultException)
            {
                refusals.Add($"{output.Kind}: {e.Message}");
            }
        }

        return new BuildResult(
            [.. target.Finish().Select(n => (n, purposes[n]))],
            refusals,
            [.. remarks.Distinct()]
        );
    }

    private static void Pdf(
        OutputFolder target,
        Artefact page,
        IOutput output,
        Dictionary<string, string> purposes,
        List<string> remarks
    )
    {
        var name = Path.ChangeExtension(page.FileName, ".pdf");
        var result = PdfPrinter
            .OfThisMachine()
            .PrintAsync(target.Reserve(page.FileName), target.Reserve(name))
            .GetAwaiter()
            .GetResult();
        if (result.Printed)
        {
            purposes[name] = output.Purpose + ", for the printer";
        }
        else
        {
            remarks.Add(result.Message);
        }
    }
}
