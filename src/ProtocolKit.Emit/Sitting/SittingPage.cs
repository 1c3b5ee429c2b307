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
/// <param name="Language">Of the texts, as HTML wants it: <c>en</c>.</param>
/// <param name="Title">The protocol’s title.</param>
/// <param name="Edition">As the protocol gives it.</param>
/// <param name="Purpose">What the protocol is for; missing where it doesn’t say.</param>
/// <param name="Examiner">Who may give it; missing where it doesn’t say.</param>
/// <param name="Policy">The parts of the content policy that name, by their digests, the only scripts and the only style the page runs.</param>
/// <param name="Style">The whole style sheet.</param>
/// <param name="Data">The protocol as JSON in which no markup can stand.</param>
/// <param name="Scoring">The emitted module.</param>
/// <param name="Program">The page's own scripts.</param>
/// <param name="Care">What the page must say before anything else.</param>
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
/// <param name="Agreement">The child’s yes before each touch.</param>
/// <param name="StopSigns">When to stop at once.</param>
/// <param name="Consent">The caregiver’s consent first.</param>
/// <param name="Gates">What the case history may close.</param>
/// <param name="Hygiene">Hands, gloves, allergies.</param>
/// <param name="Postpone">When to put the sitting off.</param>
/// <param name="NothingLoose">No food, no drink, nothing loose.</param>
/// <param name="Rest">When to let the child rest.</param>
/// <param name="ReferToday">What can’t wait.</param>
/// <param name="Languages">Strongest language, interpreter.</param>
/// <param name="WhoGives">Who may give it.</param>
/// <param name="NoDiagnosis">That a screen makes no diagnosis.</param>
/// <param name="NonSpeech">That movements say little about speech.</param>
/// <param name="Others">The protocol’s own cautions.</param>
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
