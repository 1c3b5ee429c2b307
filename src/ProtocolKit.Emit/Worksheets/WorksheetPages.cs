using System.Globalization;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Worksheets;

/// <summary>A worksheet as pages: the cases, a key of its own, and the checklist of giving. Every page says that the cases are invented.</summary>
public static class WorksheetPages
{
    /// <summary>What stands on every page.</summary>
    public const string Invented = "INVENTED CASE";

    /// <exception cref="TemplateFaultException">A template is at fault.</exception>
    public static IReadOnlyList<Artefact> Render(
        PracticeSheet sheet,
        OutputOptions options,
        TemplateSource templates
    )
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(options);
        var name = "worksheet-" + Name(sheet.Kind);
        return
        [
            Page("cases.html", name + ".html", "Practice cases", "cases to practise on, for the student"),
            Page("key.html", name + "-key.html", "Key", "the key, with the rule at every step"),
            Page(
                "checklist.html",
                "giving-checklist.html",
                "Giving checklist",
                "what an observer ticks while a student gives the tasks"
            ),
        ];

        Artefact Page(string template, string file, string heading, string purpose) =>
            new(
                file,
                TemplateRenderer.Html(templates, "worksheet/" + template, View(sheet, heading, options)),
                true
            )
            {
                Purpose = purpose,
            };
    }

    /// <summary>As <c>--kind</c> says it.</summary>
    public static string Name(WorksheetKind kind) =>
        kind switch
        {
            WorksheetKind.Rate => "rate",
            WorksheetKind.Total => "total",
            WorksheetKind.Slip => "slip",
            WorksheetKind.Age => "age",
            _ => "raters",
        };

    internal static WorksheetView View(PracticeSheet sheet, string heading, OutputOptions options)
    {
        var protocol = sheet.Protocol;
        var seed = string.Create(CultureInfo.InvariantCulture, $"seed {sheet.Seed}");
        var form = sheet.IsShortForm ? "short form, " : "";
        Duty[] duties =
        [
            Duties.Agreement,
            Duties.StopSigns,
            Duties.Hygiene,
            Duties.Postpone,
            Duties.WhoGives,
            Duties.NonSpeech,
        ];
        return new(
            ReportFrame.Of(protocol, heading, $"{Invented} · {Name(sheet.Kind)}, {form}{seed}", options),
            Invented,
            Title(sheet.Kind),
            [.. sheet.Cases.Select(Case)],
            [.. sheet.Checklist.Select(c => new ChecklistTaskView(c.Title, c.Steps))],
            [.. duties.Select(d => d.In(protocol)), Duties.NoDiagnosis.In(protocol)],
            protocol.CutOffs.Any(t => t.Basis.IsProvisional)
        );
    }

    private static WorksheetCaseView Case(PracticeCase one) =>
        new(
            one.Number.ToString(CultureInfo.InvariantCulture),
            one.Task,
            [.. one.Facts.Select(f => new WorksheetFactView(f.Name, f.Text))],
            one.Columns,
            [.. one.Rows.Select(r => new WorksheetRowView(r[0], [.. r.Skip(1)]))],
            one.Questions,
            one.Key
        );

    private static string Title(WorksheetKind kind) =>
        kind switch
        {
            WorksheetKind.Rate => "Rate what is described",
            WorksheetKind.Total => "Add up and find the band",
            WorksheetKind.Slip => "Find the slip",
            WorksheetKind.Age => "Work out the age",
            _ => "Compare two raters",
        };
}

/// <summary>What the templates of worksheets see.</summary>
/// <param name="Frame">Letterhead, page and foot.</param>
/// <param name="Invented">What stands on every page.</param>
/// <param name="Title">What is practised.</param>
/// <param name="Cases">In order.</param>
/// <param name="Checklist">What an observer ticks, task by task.</param>
/// <param name="Cautions">The duties of every page.</param>
/// <param name="AnyProvisional">Some cut-offs are provisional.</param>
public sealed record WorksheetView(
    FrameView Frame,
    string Invented,
    string Title,
    IReadOnlyList<WorksheetCaseView> Cases,
    IReadOnlyList<ChecklistTaskView> Checklist,
    IReadOnlyList<string> Cautions,
    bool AnyProvisional
);

/// <param name="Number">From 1.</param>
/// <param name="Task">What is to be done.</param>
/// <param name="Facts">What is known.</param>
/// <param name="Columns">Heads of the table.</param>
/// <param name="Rows">What is described or recorded.</param>
/// <param name="Questions">What is asked, with room to answer.</param>
/// <param name="Key">The rule at each step, for the key alone.</param>
public sealed record WorksheetCaseView(
    string Number,
    string Task,
    IReadOnlyList<WorksheetFactView> Facts,
    IReadOnlyList<string> Columns,
    IReadOnlyList<WorksheetRowView> Rows,
    IReadOnlyList<string> Questions,
    IReadOnlyList<string> Key
);

/// <param name="Name">What it is about.</param>
/// <param name="Text">What is known.</param>
public sealed record WorksheetFactView(string Name, string Text);

/// <param name="Head">Its first cell.</param>
/// <param name="Cells">The others; an empty one is for the student.</param>
public sealed record WorksheetRowView(string Head, IReadOnlyList<string> Cells);

/// <param name="Title">Number and title of the task.</param>
/// <param name="Steps">What is ticked.</param>
public sealed record ChecklistTaskView(string Title, IReadOnlyList<string> Steps);
