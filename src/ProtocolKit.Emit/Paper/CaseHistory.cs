using System.Globalization;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>The questions a caregiver answers before the sitting, and the consents on a page of their own, which bears a name and no code.</summary>
public sealed class CaseHistory : IOutput
{
    public string Kind => "case-history";

    public string Purpose => "the caregiver's questions before the sitting";

    public IReadOnlyList<Artefact> Render(Protocol protocol, OutputOptions options, TemplateSource templates)
    {
        var view = View(protocol, options);
        return
        [
            new("case-history.html", TemplateRenderer.Html(templates, "case-history/form.html", view), true),
            new("consent.html", TemplateRenderer.Html(templates, "case-history/consent.html", view), true)
            {
                Purpose = "consent page, one line for each thing asked",
            },
        ];
    }

    internal static CaseHistoryView View(Protocol protocol, OutputOptions options) =>
        new(
            protocol.Language,
            protocol.Title,
            protocol.Edition,
            PageViews.Of(protocol, options, legend: false),
            protocol.History.Select((q, i) => Question(protocol, q, i + 1)).ToList(),
            protocol.Consents.Count > 0
                ? protocol.Consents.Select(c => c.Text).ToList()
                : CaregiverTexts.Consents,
            CaregiverTexts.Before,
            CaregiverTexts.CallToday,
            CaregiverTexts.Agreement,
            ReportFrame.Of(protocol, "Consent", $"edition {protocol.Edition}", options)
        );

    private static QuestionView Question(Protocol protocol, HistoryQuestion question, int number) =>
        new(
            number.ToString(CultureInfo.InvariantCulture),
            question.Name,
            question.Text,
            question.Kind == HistoryAnswer.YesNo,
            [.. question.Gates.Select(g => GivingWords.OfGate(protocol, question, g))]
        );
}

/// <param name="Language">Of the texts, as HTML wants it: <c>en</c>.</param>
/// <param name="Title">The protocol’s title.</param>
/// <param name="Edition">As the protocol gives it.</param>
/// <param name="Page">Sizes of the page, and its foot.</param>
/// <param name="Questions">In the protocol’s order.</param>
/// <param name="Consents">What is agreed to, a sentence each.</param>
/// <param name="Before">What the family should know before.</param>
/// <param name="CallToday">When to call a doctor the same day.</param>
/// <param name="Agreement">That the child is asked too.</param>
/// <param name="Frame">Letterhead, page and foot.</param>
public sealed record CaseHistoryView(
    string Language,
    string Title,
    string Edition,
    PageView Page,
    IReadOnlyList<QuestionView> Questions,
    IReadOnlyList<string> Consents,
    IReadOnlyList<string> Before,
    string CallToday,
    string Agreement,
    FrameView Frame
);

/// <param name="Number">From 1.</param>
/// <param name="Name">As the protocol calls it.</param>
/// <param name="Text">What is asked.</param>
/// <param name="YesNo">Answered by yes or no; else in words.</param>
/// <param name="Gates">What the examiner leaves out after which answer.</param>
public sealed record QuestionView(
    string Number,
    string Name,
    string Text,
    bool YesNo,
    IReadOnlyList<string> Gates
);
