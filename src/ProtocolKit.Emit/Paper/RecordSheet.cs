using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>
/// The sheet that is filled in beside the child; the page for totals and the slip that links code and name are files of their own,
/// so that neither is carried into the room.
/// </summary>
public sealed class RecordSheet : IOutput
{
    private const string StopCode = "Circle W for what was not given, and write down what happened.";

    public string Kind => "record-sheet";

    public string Purpose => "sheet to fill in while the tasks are given";

    public IReadOnlyList<Artefact> Render(Protocol protocol, OutputOptions options, TemplateSource templates)
    {
        var view = View(protocol, options);
        SheetHeights.Check(view, PaperGeometry.Of(options.Paper));
        return
        [
            new("record-sheet.html", TemplateRenderer.Html(templates, "record-sheet/sheet.html", view), true),
            new("totals.html", TemplateRenderer.Html(templates, "record-sheet/totals.html", view), true)
            {
                Purpose = "totals page, filled in after the child has gone",
            },
            new("code-slip.html", TemplateRenderer.Html(templates, "record-sheet/code-slip.html", view), true)
            {
                Purpose = "slip that links record code and name, locked away",
            },
        ];
    }

    internal static SheetView View(Protocol protocol, OutputOptions options) =>
        new(
            protocol.Language,
            protocol.Title,
            protocol.Edition,
            FormName(protocol, options),
            options.Age?.ToString(),
            options.RecordCode,
            options.LeftHanded,
            PageViews.Of(protocol, options),
            First(protocol, options),
            TaskViews.Of(protocol, options),
            UntriedCodes.All,
            TotalsViews.Of(protocol, options)
        );

    private static string FormName(Protocol protocol, OutputOptions options) =>
        !protocol.HasShortForm ? ""
        : options.ShortForm ? $"Short form, about {protocol.ShortFormMinutes} min"
        : "Full form";

    private static FirstPageView First(Protocol protocol, OutputOptions options)
    {
        var given = TaskViews.Given(protocol, options);
        var used = given.SelectMany(t => t.Materials.Select(m => m.Name)).ToHashSet(StringComparer.Ordinal);
        var touched = given.SelectMany(t => t.Help.Select(h => h.Contact).Append(t.Contact)).ToHashSet();
        return new(
            protocol.Purpose,
            options.ShortForm ? "" : Words.Minutes(protocol.Sitting),
            Duties.Consent.In(protocol),
            protocol.Consents.Count > 0
                ? protocol.Consents.Select(c => Names.ToTitle(c.Name)).ToList()
                : Duties.Consents,
            Duties.Gates.In(protocol),
            Duties.GateQuestions,
            [
                Duties.Agreement.In(protocol),
                Duties.StopSigns.In(protocol),
                StopCode,
                .. GivingWords.OfEvents(protocol),
            ],
            Notices(protocol),
            protocol
                .Materials.Where(m => !options.ShortForm || used.Contains(m.Name))
                .Select(m => new MaterialView(m.Text, m.Amount))
                .ToList(),
            protocol
                .Cautions.Where(c => c.Contacts.Any(touched.Contains) || c.Materials.Any(used.Contains))
                .Where(c => Duties.All.All(d => d.Name != c.Name))
                .Select(c => Caution(c))
                .ToList()
        );
    }

    private static List<string> Notices(Protocol protocol)
    {
        Duty[] duties =
        [
            Duties.ReferToday,
            Duties.Hygiene,
            Duties.Postpone,
            Duties.NothingLoose,
            Duties.Rest,
            Duties.Languages,
            Duties.WhoGives,
            Duties.NoDiagnosis,
            Duties.NonSpeech,
        ];
        return
        [
            .. GivingWords.OfGates(protocol),
            .. duties.Select(d => d.In(protocol)),
            .. Duties.OtherGeneral(protocol).Select(c => c.Text),
        ];
    }

    private static CautionView Caution(Caution caution)
    {
        var contacts = caution.Contacts.Select(Words.Of);
        var materials = caution.Materials.Select(Names.ToWords);
        return new(caution.Text, string.Join(", ", contacts.Concat(materials)));
    }
}
