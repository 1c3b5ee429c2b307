using ProtocolKit.Emit;
using ProtocolKit.Emit.Worksheets;
using ProtocolKit.Model;
using ProtocolKit.Workspace.Files;
using ProtocolKit.Workspace.Printing;
using ProtocolKit.Workspace.Reports;

namespace ProtocolKit.Workspace.Worksheets;

/// <summary>Practice cases of a protocol: drawn, written and printed.</summary>
public static class WorksheetMaker
{
    /// <param name="file">As it is practised: in the language it should be.</param>
    /// <param name="done">Told after each case how many are done.</param>
    /// <exception cref="FileProblemException">Vignettes are needed and missing or wrong.</exception>
    /// <exception cref="WorksheetRefusedException">The protocol has nothing of this kind to practise.</exception>
    /// <exception cref="Proof.ProofLimitException">There are too many cases to count.</exception>
    public static PracticeSheet Make(
        ProtocolFile file,
        WorksheetKind kind,
        int cases,
        ulong seed,
        Action<int>? done = null,
        bool shortForm = false
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        var protocol = file.Compilation.Protocol!;
        var source = new CaseSource(protocol, seed, shortForm);
        var vignettes = kind == WorksheetKind.Rate ? Vignettes.Beside(file.Path, protocol) : null;
        var made = new List<PracticeCase>();
        for (var number = 1; number <= cases; number++)
        {
            made.Add(
                kind switch
                {
                    WorksheetKind.Rate => SimpleCases.Rate(source, vignettes!, number),
                    WorksheetKind.Total => SimpleCases.Total(source, number),
                    WorksheetKind.Age => SimpleCases.AgeOnTheDay(source, number),
                    WorksheetKind.Raters => SimpleCases.Raters(source, number),
                    _ => SlipCases.Of(source, number),
                }
            );
            done?.Invoke(number);
        }

        return new PracticeSheet(protocol, kind, seed, made, [.. source.Tasks.Select(Checklist)])
        {
            IsShortForm = shortForm,
        };
    }

    /// <exception cref="FileProblemException">The folder can't be written.</exception>
    public static ReportResult Write(
        ProtocolFile file,
        PracticeSheet sheet,
        OutputOptions options,
        string folder,
        bool printPdf
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        using var target = new OutputFolder(folder);
        var files = new ArtefactFiles(target, printPdf);
        var purposes = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var artefact in WorksheetPages.Render(sheet, options, TemplateFolder.Beside(file.Path)))
        {
            foreach (var name in files.Write(artefact))
            {
                purposes[name] = artefact.Purpose + (name == artefact.FileName ? "" : ", for the printer");
            }
        }

        return new([.. target.Finish().Select(n => (n, purposes[n]))], [], files.Remarks);
    }

    /// <summary>What the cue card asks of whoever gives the task.</summary>
    private static ChecklistTask Checklist(ProtocolTask task)
    {
        var steps = new List<string>();
        if (task.Materials.Count > 0)
        {
            steps.Add($"Has at hand: {string.Join(", ", task.Materials.Select(m => m.Text))}.");
        }

        if (task.Contact != Contact.None)
        {
            steps.Add("Asks the child before touching, and waits for a clear yes.");
        }

        steps.AddRange(task.Variants.SelectMany(v => v.Show).Distinct().Select(s => $"Shows: {s}"));
        steps.AddRange(
            task.Variants.SelectMany(v => v.Say).Distinct().Select(s => $"Says, word for word: “{s}”")
        );
        Add("Practice first: ", task.Practice);
        Add("Gives the sign: ", task.Go);
        Add("Has the child hold: ", task.Hold);
        Add("Repeats, if not understood, only ", task.Repeat);
        if (task.Trials.Count > 1)
        {
            steps.Add(
                task.Trials.FurtherWhen is { } further
                    ? $"Gives a further trial, up to {task.Trials.Count}, only while {further.Response} is below {further.Below}."
                    : $"Gives {task.Trials.Count} trials."
            );
        }

        if (task.IsSided)
        {
            steps.Add("Writes down the child’s own sides.");
        }

        if (task.Help.Count > 0)
        {
            steps.Add(
                $"Helps only in this order: {string.Join(", ", task.Help.Select(h => h.Text))}; scores what came without."
            );
        }

        steps.AddRange(task.StopWhen.Select(s => $"Stops when {s}."));
        steps.Add("Gives no praise for being right, and uses a code where nothing was tried.");
        return new ChecklistTask($"{task.Number}. {task.Title}", steps);

        void Add(string before, string? text)
        {
            if (!string.IsNullOrWhiteSpace(text))
            {
                steps.Add($"{before}{text.TrimEnd('.')}.");
            }
        }
    }
}
