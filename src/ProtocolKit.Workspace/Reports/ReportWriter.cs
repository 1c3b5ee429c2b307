using ProtocolKit.Emit;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace.Files;
using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Workspace.Reports;

/// <param name="Files">What was written, relative to the folder, with what it is.</param>
/// <param name="Refusals">Letters too long for their page and the like.</param>
/// <param name="Remarks">Things to know, such as a missing browser.</param>
public sealed record ReportResult(
    IReadOnlyList<(string Name, string Purpose)> Files,
    IReadOnlyList<string> Refusals,
    IReadOnlyList<string> Remarks
);

/// <summary>What a report is asked for.</summary>
/// <param name="Names">A child's name by case code, given at this moment; never written anywhere but into the letter.</param>
/// <param name="ForTeamAlone">The note holds what never leaves the team.</param>
public sealed record ReportWishes(
    IReadOnlyDictionary<string, string> Names,
    bool Notes = true,
    bool Letters = true,
    bool ForTeamAlone = false
);

/// <summary>From scored sittings to team notes, letters and pages on change in a folder.</summary>
public static class ReportWriter
{
    /// <param name="sittings">Each gets its note and letter; an earlier sitting of the same child among these or <paramref name="earlier"/> is what change is told from.</param>
    /// <exception cref="FileProblemException">The folder can't be written.</exception>
    public static ReportResult Write(
        ProtocolFile file,
        IReadOnlyList<ScoredRecord> sittings,
        IReadOnlyList<ScoredRecord> earlier,
        ReportWishes wishes,
        OutputOptions options,
        string folder,
        bool printPdf
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(wishes);
        var templates = TemplateFolder.Beside(file.Path);
        var all = sittings.Concat(earlier).ToList();
        return Write(
            Numbered(sittings).SelectMany(s => Pages(s.Sitting, s.Ending, Before(s.Sitting, all), wishes)),
            folder,
            printPdf
        );

        IEnumerable<Func<Artefact>> Pages(
            ScoredRecord sitting,
            string ending,
            ScoredRecord? before,
            ReportWishes asked
        )
        {
            if (asked.Notes)
            {
                yield return () =>
                    Named(
                        TeamNotePage.Render(
                            TeamNotes.Of(sitting, before, asked.ForTeamAlone),
                            options,
                            templates
                        ),
                        ending
                    );
            }

            if (asked.Letters)
            {
                var name = asked.Names.GetValueOrDefault(sitting.Record.Case);
                yield return () =>
                    Named(LetterPage.Render(Letters.Of(sitting, name), options, templates), ending);
            }
        }
    }

    /// <summary>The page on change between the sittings of one child, in the order of their days.</summary>
    /// <exception cref="FileProblemException">The folder can't be written.</exception>
    public static ReportResult Write(
        ProtocolFile file,
        ReTestReport report,
        OutputOptions options,
        string folder,
        bool printPdf
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        var templates = TemplateFolder.Beside(file.Path);
        return Write([() => ReTestPage.Render(report, options, templates)], folder, printPdf);
    }

    private static ReportResult Write(IEnumerable<Func<Artefact>> pages, string folder, bool printPdf)
    {
        using var target = new OutputFolder(folder);
        var files = new ArtefactFiles(target, printPdf);
        var purposes = new Dictionary<string, string>(StringComparer.Ordinal);
        var refusals = new List<string>();
        foreach (var page in pages)
        {
            try
            {
                var artefact = page();
                foreach (var name in files.Write(artefact))
                {
                    purposes[name] =
                        artefact.Purpose + (name == artefact.FileName ? "" : ", for the printer");
                }
            }
            catch (OutputRefusedException refused)
            {
                refusals.Add(refused.Message);
            }
        }

        return new([.. target.Finish().Select(n => (n, purposes[n]))], refusals, files.Remarks);
    }

    /// <summary>Two sittings of one case get their days into their file names.</summary>
    private static IEnumerable<(ScoredRecord Sitting, string Ending)> Numbered(
        IReadOnlyList<ScoredRecord> sittings
    ) =>
        sittings.Select(s =>
            (
                s,
                sittings.Count(o => o.Record.Case == s.Record.Case) == 1
                    ? ""
                    : $"-{s.Record.Seen[0].ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture)}"
            )
        );

    private static Artefact Named(Artefact artefact, string ending) =>
        ending.Length == 0
            ? artefact
            : artefact with
            {
                FileName =
                    Path.GetFileNameWithoutExtension(artefact.FileName)
                    + ending
                    + Path.GetExtension(artefact.FileName),
            };

    /// <summary>The latest sitting of the same child before this one, where there is one.</summary>
    private static ScoredRecord? Before(ScoredRecord sitting, IReadOnlyList<ScoredRecord> all) =>
        all.Where(o => o.Record.Case == sitting.Record.Case && o.Record.Seen.Count > 0)
            .Where(o => o.Record.Seen[0] < sitting.Record.Seen[0])
            .MaxBy(o => o.Record.Seen[0]);
}
