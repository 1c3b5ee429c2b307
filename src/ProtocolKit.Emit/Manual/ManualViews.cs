using System.Globalization;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Paper.Cards;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Manual;

/// <summary>Everything an examiner is told, gathered from the protocol chapter by chapter.</summary>
internal static class ManualViews
{
    public static ManualView Of(Protocol protocol, OutputOptions options)
    {
        var sections = Sections(protocol, options);
        return new(
            ReportFrame.Of(
                protocol,
                "Examiner manual",
                $"edition {protocol.Edition}, form {Words.Grouped(protocol.Fingerprints.Form)}",
                options
            ),
            Contents(protocol, sections),
            Facts(protocol),
            protocol.Purpose,
            [.. Limits.Select(d => d.In(protocol))],
            WhoGives(protocol),
            [.. protocol.Materials.Select(m => new MaterialView(m.Text, m.Amount))],
            [
                .. Before.Select(d => d.In(protocol)),
                .. Duties.OtherGeneral(protocol).Select(c => c.Text),
                .. GivingWords.OfEvents(protocol),
            ],
            Cautions(protocol),
            protocol.Consents.Count > 0
                ? [.. protocol.Consents.Select(c => c.Text)]
                : CaregiverTexts.Consents,
            [.. GivingWords.OfGates(protocol)],
            [.. TaskViews.Given(protocol, options).Select(OrderRow)],
            [.. ManualTexts.Codes()],
            sections,
            ManualTexts.Scoring,
            [.. protocol.Outcomes.Select(o => TotalsViews.OfOutcome(protocol, o, options))],
            [.. ManualCutOffs.Of(protocol, options)],
            TotalsViews.Actions(protocol),
            [.. ReTests(protocol)],
            ProofViews.Of(protocol, options.Proof, everyLine: false),
            protocol.References,
            [.. protocol.EditionNotes.Select(n => new FactView(n.Edition, n.Text))]
        );
    }

    private static IReadOnlyList<Duty> Limits { get; } =
    [Duties.NoDiagnosis, Duties.NonSpeech, Duties.Languages];

    private static IReadOnlyList<Duty> Before { get; } =
    [
        Duties.Agreement,
        Duties.StopSigns,
        Duties.Consent,
        Duties.Gates,
        Duties.Hygiene,
        Duties.Postpone,
        Duties.NothingLoose,
        Duties.Rest,
        Duties.ReferToday,
    ];

    /// <summary>The chapters, and the sections of tasks under theirs; as the template has them.</summary>
    private static List<ContentView> Contents(Protocol protocol, IReadOnlyList<ManualSectionView> sections)
    {
        List<(string Id, string Title, int Level)> entries =
        [
            ("purpose", "What it is for, and its limits", 1),
            ("who", "Who may give it", 1),
            ("before", "Before and in every sitting", 1),
            ("materials", "Materials and their cautions", 1),
            ("consent", "Consent and case history", 1),
            ("order", "Order of giving", 1),
            ("codes", "When nothing can be rated", 1),
            ("tasks", "The tasks", 1),
            .. sections.Select(s => (s.Id, s.Title, 2)),
            ("scoring", "Scoring rules in words", 1),
            ("values", "Scores and measures", 1),
            ("cut-offs", "Cut-offs and what they rest on", 1),
            ("actions", "Actions", 1),
        ];
        if (protocol.ReTests.Count > 0)
        {
            entries.Add(("change", "Change between sittings", 1));
        }

        entries.Add(("proofs", "What is proved", 1));
        entries.Add(("references", "References and editions", 1));
        return [.. entries.Select((e, i) => new ContentView(e.Id, e.Title, e.Level, ContentsMark.Of(i)))];
    }

    private static List<FactView> Facts(Protocol protocol)
    {
        List<FactView> facts =
        [
            new("Ages", protocol.Ages.ToString()),
            new("Forms", ManualTexts.ShortForm(protocol)),
            new("Sitting", protocol.Sitting is null ? "not stated" : Words.Minutes(protocol.Sitting)),
            new("Tasks", protocol.Tasks.Count.ToString(CultureInfo.InvariantCulture)),
            new("Language", Language(protocol)),
            new("Form", Words.Grouped(protocol.Fingerprints.Form)),
            new("Administration", Words.Grouped(protocol.Fingerprints.Administration)),
            new("Interpretation", Words.Grouped(protocol.Fingerprints.Interpretation)),
        ];
        if (protocol.CorrectedUntil is { } until)
        {
            facts.Add(new("Born early", $"age counts corrected until {until} since birth"));
        }

        return facts;
    }

    private static string Language(Protocol protocol) =>
        protocol.Translated is { } note ? $"{protocol.Language}, translated from {note.From}: {note.Status}"
        : protocol.Translations.Count > 0
            ? $"{protocol.Language}; translations: {string.Join(", ", protocol.Translations)}"
        : protocol.Language;

    private static List<string> WhoGives(Protocol protocol)
    {
        List<string> lines = [];
        if (protocol.Examiner is { } examiner)
        {
            lines.Add(examiner);
        }

        lines.Add(Duties.WhoGives.In(protocol));
        if (protocol.Readiness is { } readiness)
        {
            var again = readiness.AgainAfter is { } months ? $" Shown again after {months} months." : "";
            lines.Add(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{readiness.Text.TrimEnd('.')}: {readiness.Records} records rated by both.{again}"
                )
            );
            lines.AddRange(readiness.Checks.Select(c => Check(protocol, c)));
        }

        return lines;
    }

    private static string AnswerWord(Protocol protocol, string response) =>
        protocol.Tasks.SelectMany(t => t.Responses).FirstOrDefault(r => r.Name == response)?.Kind
        == ResponseKind.Rating
            ? "rating"
            : Names.ToWords(response);

    private static string Check(Protocol protocol, ReadinessCheck check)
    {
        var what = check.Kind switch
        {
            ReadinessKind.SameAnswer => $"The same {AnswerWord(protocol, check.Of)}",
            ReadinessKind.CloseValue =>
                $"{FormulaWords.OfOutcome(protocol, check.Of)} no further apart than {check.Within}",
            ReadinessKind.SameBand => $"The same band of {FormulaWords.OfOutcome(protocol, check.Of)}",
            _ => "The same headline action",
        };
        return string.Create(CultureInfo.InvariantCulture, $"{what} in at least {check.Percent} of 100.");
    }

    private static List<CautionView> Cautions(Protocol protocol) =>
        [
            .. protocol
                .Cautions.Where(c => !c.IsGeneral)
                .Select(c => new CautionView(
                    c.Text,
                    string.Join(", ", c.Contacts.Select(Words.Of).Concat(c.Materials.Select(Names.ToWords)))
                )),
        ];

    private static OrderRowView OrderRow(ProtocolTask task) =>
        new(
            task.Number.ToString(CultureInfo.InvariantCulture),
            task.Title,
            task.Section?.Title ?? "",
            Words.Of(task.Contact),
            task.ShortForm
        );

    private static List<ManualSectionView> Sections(Protocol protocol, OutputOptions options) =>
        [
            .. TaskViews
                .Given(protocol, options)
                .GroupBy(t => t.Section?.Name ?? "")
                .OrderBy(g => Place(protocol, g.Key))
                .Select((g, i) => Section(protocol, options, g.First().Section, [.. g], i)),
        ];

    private static int Place(Protocol protocol, string section)
    {
        var place = protocol.Sections.Select(s => s.Name).ToList().IndexOf(section);
        return place < 0 ? int.MaxValue : place;
    }

    private static ManualSectionView Section(
        Protocol protocol,
        OutputOptions options,
        Section? section,
        IReadOnlyList<ProtocolTask> tasks,
        int at
    ) =>
        new(
            string.Create(CultureInfo.InvariantCulture, $"section-{at + 1}"),
            section?.Title ?? "Tasks without a section",
            section?.Introduction,
            section is null ? [] : GivingWords.OfSection(protocol, section),
            [.. tasks.Select(t => Task(protocol, options, t))]
        );

    private static ManualTaskView Task(Protocol protocol, OutputOptions options, ProtocolTask task) =>
        new(
            string.Create(CultureInfo.InvariantCulture, $"task-{task.Number}"),
            task.Number.ToString(CultureInfo.InvariantCulture),
            task.Title,
            Words.Of(task.Contact),
            task.Contact != Contact.None,
            task.ShortForm && protocol.HasShortForm && !options.ShortForm,
            CardTexts.Front(task),
            [.. CardTexts.Back(task, protocol), .. CardTexts.LookFor(task)]
        );

    private static IEnumerable<FactView> ReTests(Protocol protocol) =>
        protocol.ReTests.Select(r =>
        {
            var unit = r.Outcome.Unit.IsPure ? "" : $" {r.Outcome.Unit}";
            var interval = r.Interval is { } i ? $" ({i.From} to {i.To})" : "";
            var children = r.Children is { } n ? string.Create(CultureInfo.InvariantCulture, $", n {n}") : "";
            var after = r.After is { } wait ? $", sittings {wait} apart" : "";
            return new FactView(
                r.Outcome.Title,
                $"standard error {r.Error}{unit}{interval}: {r.Basis}{children}{after}"
            );
        });
}
