using ProtocolKit.Emit.Manual;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Emit.Tests.Paper;
using ProtocolKit.Emit.Worksheets;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Emit.Tests.Duty;

/// <summary>Where an output shows a duty.</summary>
/// <param name="Letter">Of the table's column.</param>
/// <param name="Page">What is printed.</param>
/// <param name="Render">With templates, some of which may be other than built in.</param>
/// <param name="Lines">Template and line by duty: without these lines the sentence is gone.</param>
internal sealed record DutyPlace(
    char Letter,
    string Page,
    Func<TemplateSource, string> Render,
    Func<Emit.Paper.Duty, IReadOnlyList<(string Template, string Line)>> Lines
)
{
    /// <summary>The sentence this page shows for a duty; families read other words than the team.</summary>
    public Func<Emit.Paper.Duty, string> Sentence { get; init; } = duty => duty.Text;

    public override string ToString() => $"{Letter} {Page}";
}

internal static class DutyPlaces
{
    private const string Line = "<li>{{ line }}</li>";
    private const string Banner =
        "<p class=\"banner\"><b>{{ task.banner.title }}.</b> {{ task.banner.text }}</p>";

    /// <summary>Without cautions of its own, so that every sentence is ours.</summary>
    private static readonly Protocol Bare = SampleProtocol.Full with { Cautions = [] };

    public static IReadOnlyList<DutyPlace> All { get; } =
    [
        new('S', "record sheet", t => First(new RecordSheet(), t), SheetLines),
        new(
            'C',
            "cue cards",
            t => First(new CueCards(), t),
            _ => [("cue-cards/side.html", Starting("cue-cards/side.html", "<p class=\"item"))]
        ),
        new('M', "manual", t => First(new ExaminerManual(), t), ManualLines),
        new(
            'F',
            "case history",
            t => First(new CaseHistory(), t),
            duty => [FamilyLine("case-history/form.html", duty, "today")]
        )
        {
            Sentence = FamilyBefore,
        },
        new('F', "letter", Letter, duty => [FamilyLine("letter/letter.html", duty, "strong")])
        {
            Sentence = FamilyAfter,
        },
        new(
            'T',
            "team note",
            Note,
            _ => [("team-note/note.html", "<ul>{{ for line in limits }}<li>{{ line }}</li>{{ end }}</ul>")]
        ),
        new(
            'K',
            "study report",
            Study,
            _ =>
                [
                    (
                        "study-report/report.html",
                        "<ul>{{ for line in cautions }}<li>{{ line }}</li>{{ end }}</ul>"
                    ),
                ]
        ),
        new('W', "practice cases", t => Worksheet(t, 0), WorksheetLines),
        new('W', "key of the cases", t => Worksheet(t, 1), WorksheetLines),
        new('W', "giving checklist", t => Worksheet(t, 2), WorksheetLines),
    ];

    private static IReadOnlyList<(string, string)> WorksheetLines(Emit.Paper.Duty _) =>
        [("worksheet/cautions.html", "<p>{{ line }}</p>")];

    private static string Worksheet(TemplateSource templates, int page) =>
        WorksheetPages
            .Render(
                new PracticeSheet(Bare, WorksheetKind.Total, 7, [], []),
                OutputOptions.Default,
                templates
            )[page]
            .Text;

    private static string First(IOutput output, TemplateSource templates) =>
        output.Render(Bare, OutputOptions.Default, templates)[0].Text;

    private static IReadOnlyList<(string, string)> SheetLines(Emit.Paper.Duty duty) =>
        duty == Duties.Consent ? [("record-sheet/first-page.html", "<p>{{ first.consent_line }}</p>")]
        : duty == Duties.Gates
            ?
            [
                (
                    "record-sheet/first-page.html",
                    "<p>{{ first.gate_line }} Circle W for the tasks left out.</p>"
                ),
            ]
        : duty == Duties.Agreement || duty == Duties.StopSigns
            ? [("record-sheet/first-page.html", "<li>{{ said }}</li>"), ("record-sheet/task.html", Banner)]
        : [("record-sheet/first-page.html", Line)];

    private static IReadOnlyList<(string, string)> ManualLines(Emit.Paper.Duty duty)
    {
        var list =
            duty == Duties.NoDiagnosis || duty == Duties.NonSpeech || duty == Duties.Languages ? "limits"
            : duty == Duties.WhoGives ? "who_gives"
            : "before";
        List<(string, string)> lines =
        [
            (
                "manual/giving.html",
                $"<ul>{{{{ for line in {list} }}}}<li>{{{{ line }}}}</li>{{{{ end }}}}</ul>"
            ),
        ];
        if (duty == Duties.Agreement)
        {
            // Tasks that touch say it again among their cautions.
            lines.Add(
                (
                    "manual/block.html",
                    "<p class=\"item\"><b>{{ block.mark }}</b><span>{{ block.text }}</span></p>"
                )
            );
        }

        return lines;
    }

    private static (string, string) FamilyLine(string template, Emit.Paper.Duty duty, string style) =>
        (template, duty == Duties.ReferToday ? $"<li class=\"{style}\">{{{{ call_today }}}}</li>" : Line);

    private static string FamilyBefore(Emit.Paper.Duty duty) =>
        duty == Duties.ReferToday ? CaregiverTexts.CallToday
        : duty == Duties.NoDiagnosis ? CaregiverTexts.Before[0]
        : duty == Duties.NonSpeech ? CaregiverTexts.Before[1]
        : CaregiverTexts.Before[4];

    private static string FamilyAfter(Emit.Paper.Duty duty) =>
        duty == Duties.ReferToday ? CaregiverTexts.CallToday
        : duty == Duties.NoDiagnosis ? CaregiverTexts.After[0].Text
        : duty == Duties.NonSpeech ? CaregiverTexts.After[1].Text
        : CaregiverTexts.After[2].Text;

    private static string Letter(TemplateSource templates) =>
        LetterPage
            .Render(
                new CaregiverLetter(Bare, "QC-1", ["Dear family,"], new Dictionary<string, string>()),
                OutputOptions.Default,
                templates
            )
            .Text;

    private static string Note(TemplateSource templates) =>
        TeamNotePage
            .Render(
                TeamNotes.Of(Example.Scored("qc-0417")) with
                {
                    Protocol = Bare,
                },
                OutputOptions.Default,
                templates
            )
            .Text;

    private static string Study(TemplateSource templates) =>
        StudyPage
            .Render(
                new StudyReport
                {
                    Kind = "items",
                    Title = "Items",
                    Protocol = Bare,
                    Asked = [],
                    Data = [],
                    LeftOut = [],
                    Sections = [],
                    May = [],
                    MayNot = [],
                },
                OutputOptions.Default,
                templates
            )[0]
            .Text;

    /// <summary>The whole line of a built-in template that begins so.</summary>
    private static string Starting(string template, string start) =>
        TemplateSource
            .BuiltIn.TextOf(template)
            .Split('\n')
            .Single(l => l.StartsWith(start, StringComparison.Ordinal));
}
