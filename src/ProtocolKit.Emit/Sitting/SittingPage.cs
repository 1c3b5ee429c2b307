using ProtocolKit.Emit.Code.JavaScript;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Sitting;

/// <summary>
/// The page that is filled in on a screen while the tasks are given: one file that needs nothing else and asks nothing of a
/// network. The protocol's texts travel in it as data, its scoring as the emitted JavaScript.
/// </summary>
public sealed class SittingPage : IOutput
{
    private static readonly CompactJavaScript Scoring = new();

    public string Kind => "sitting-page";

    public string Purpose =>
        "page to fill in on a screen while the tasks are given, in one file without a network";

    /// <exception cref="OutputRefusedException">The scoring is beyond what JavaScript can hold.</exception>
    public IReadOnlyList<Artefact> Render(Protocol protocol, OutputOptions options, TemplateSource templates)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(templates);
        var scoring = PageParts.Scoring(Scoring.Text(protocol, templates));
        var program = PageParts.Scripts(templates);
        var style = PageParts.Style(templates);
        var view = new SittingPageView(
            protocol.Language,
            protocol.Title,
            protocol.Edition,
            protocol.Purpose,
            protocol.Examiner,
            $"script-src {PageParts.Digest(scoring)} {PageParts.Digest(program)}; style-src {PageParts.Digest(style)}",
            new Raw(style),
            new Raw(SittingData.Write(protocol, options)),
            new Raw(scoring),
            new Raw(program),
            CareView.Of(protocol)
        );
        return [new("sitting-page.html", TemplateRenderer.Html(templates, "sitting-page/page.html", view))];
    }
}

/// <summary>What the page's template sees.</summary>
/// <param name="Policy">The parts of the content policy that name, by their digests, the only scripts and the only style the page runs.</param>
/// <param name="Data">The protocol as JSON in which no markup can stand.</param>
/// <param name="Scoring">The emitted module.</param>
/// <param name="Program">The page's own scripts.</param>
public sealed record SittingPageView(
    string Language,
    string Title,
    string Edition,
    string? Purpose,
    string? Examiner,
    string Policy,
    Raw Style,
    Raw Data,
    Raw Scoring,
    Raw Program,
    CareView Care
);

/// <summary>The duties a sitting page shows, each in the protocol's words where it has its own.</summary>
public sealed record CareView(
    string Agreement,
    string StopSigns,
    string Consent,
    string Gates,
    string Hygiene,
    string Postpone,
    string NothingLoose,
    string Rest,
    string ReferToday,
    string Languages,
    string WhoGives,
    string NoDiagnosis,
    string NonSpeech,
    IReadOnlyList<string> Others
)
{
    internal static CareView Of(Protocol protocol) =>
        new(
            Duties.Agreement.In(protocol),
            Duties.StopSigns.In(protocol),
            Duties.Consent.In(protocol),
            Duties.Gates.In(protocol),
            Duties.Hygiene.In(protocol),
            Duties.Postpone.In(protocol),
            Duties.NothingLoose.In(protocol),
            Duties.Rest.In(protocol),
            Duties.ReferToday.In(protocol),
            Duties.Languages.In(protocol),
            Duties.WhoGives.In(protocol),
            Duties.NoDiagnosis.In(protocol),
            Duties.NonSpeech.In(protocol),
            [.. Duties.OtherGeneral(protocol).Select(c => c.Text)]
        );
}
