using ProtocolKit.Calibration.Studies;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Model;
using ProtocolKit.Workspace.Files;
using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Workspace.Studies;

/// <param name="Files">What was written, relative to the folder.</param>
/// <param name="Remarks">Things to know, such as a missing browser.</param>
public sealed record StudyResult(IReadOnlyList<string> Files, IReadOnlyList<string> Remarks);

/// <summary>From a protocol's file and its records to a report in a folder.</summary>
public static class StudyRunner
{
    public static IReadOnlyList<string> Kinds { get; } =
    ["agreement", "items", "cut-offs", "norms", "change"];

    /// <summary>The study alone. Its blocks are tried in the protocol's place; those that don't compile there are not offered.</summary>
    /// <param name="wholeProof">Whether actions and claims are proved with the blocks too, which takes seconds; bands always are.</param>
    /// <exception cref="StudyRefusedException">The records don't hold what was asked.</exception>
    public static (StudyReport Report, IReadOnlyList<string> Refused) Run(
        ProtocolFile file,
        string kind,
        StudyData data,
        StudyOptions options,
        IProgress<(int Done, int All)>? progress = null,
        bool wholeProof = true
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        var report = kind switch
        {
            "agreement" => AgreementStudy.Run(data, options),
            "items" => ItemStudy.Run(data, options),
            "cut-offs" => CutOffStudy.Run(data, options, progress),
            "norms" => NormStudy.Run(data, options),
            "change" => ChangeStudy.Run(data, options),
            _ => throw new ArgumentException($"There is no study of {kind}.", nameof(kind)),
        };
        var (blocks, refused) = PasteCheck.Offered(file, report.Blocks, wholeProof);
        return (report with { Blocks = blocks }, refused);
    }

    /// <summary>Writes the report into a folder, and prints it where a browser is installed.</summary>
    /// <exception cref="FileProblemException">The folder can't be written.</exception>
    public static StudyResult Write(
        ProtocolFile file,
        StudyReport report,
        OutputOptions options,
        string folder,
        bool printPdf
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(report);
        using var target = new OutputFolder(folder);
        var files = new ArtefactFiles(target, printPdf);
        foreach (var artefact in StudyPage.Render(report, options, TemplateFolder.Beside(file.Path)))
        {
            files.Write(artefact);
        }

        return new StudyResult(target.Finish(), files.Remarks);
    }
}
