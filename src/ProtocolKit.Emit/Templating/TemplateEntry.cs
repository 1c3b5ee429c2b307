using ProtocolKit.Emit.Manual;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Sitting;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Emit.Worksheets;

namespace ProtocolKit.Emit.Templating;

/// <summary>A template that is filled by itself, with what it sees. The page on templates is made of these.</summary>
/// <param name="View">Its properties, in snake_case, are the template's variables.</param>
public sealed record TemplateEntry(string Name, string Purpose, Type View)
{
    /// <summary>Every page of HTML there is.</summary>
    public static IReadOnlyList<TemplateEntry> Pages { get; } =
    [
        new("record-sheet/sheet.html", "the sheet that is filled in beside the child", typeof(SheetView)),
        new("record-sheet/totals.html", "the totals page", typeof(SheetView)),
        new("record-sheet/code-slip.html", "the slip that links code and name", typeof(SheetView)),
        new("cue-cards/cards.html", "cards, four on a sheet, fronts and backs", typeof(CardsView)),
        new("case-history/form.html", "the caregiver's questions", typeof(CaseHistoryView)),
        new("case-history/consent.html", "the consent page", typeof(CaseHistoryView)),
        new("manual/manual.html", "the examiner manual", typeof(ManualView)),
        new("proofs/page.html", "the technical page of proofs", typeof(ProofPageView)),
        new("sitting-page/page.html", "the page for a sitting on a screen", typeof(SittingPageView)),
        new("team-note/note.html", "the team's note on one sitting", typeof(TeamNoteView)),
        new("letter/letter.html", "the letter to the family", typeof(LetterView)),
        new("re-test/page.html", "what changed between sittings", typeof(ReTestView)),
        new("worksheet/cases.html", "cases for students, with room for answers", typeof(WorksheetView)),
        new("worksheet/key.html", "the key to them, with the rule at every step", typeof(WorksheetView)),
        new(
            "worksheet/checklist.html",
            "what an observer ticks while a student gives the tasks",
            typeof(WorksheetView)
        ),
        new("study-report/report.html", "the report of a study", typeof(StudyReportView)),
    ];
}
