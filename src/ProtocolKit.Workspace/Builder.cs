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
        options = options with
        {
            Style = TeamSettings.Beside(file.Path),
            Proof = options.Proof ?? file.Proof,
        };
        var purposes = new Dictionary<string, string>(StringComparer.Ordinal);
        var refusals = new List<string>();
        using var target = new OutputFolder(folder);
        var files = new ArtefactFiles(target, printPdf);
        foreach (var output in outputs)
        {
            try
            {
                foreach (var artefact in output.Render(protocol, options, templates))
                {
                    var purpose = artefact.Purpose ?? output.Purpose;
                    foreach (var name in files.Write(artefact))
                    {
                        purposes[name] = name == artefact.FileName ? purpose : "the same, for the printer";
                    }
                }
            }
            catch (Exception e) when (e is OutputRefusedException or TemplateFaultException)
            {
                refusals.Add($"{output.Kind}: {e.Message}");
            }
        }

        return new BuildResult([.. target.Finish().Select(n => (n, purposes[n]))], refusals, files.Remarks);
    }
}
