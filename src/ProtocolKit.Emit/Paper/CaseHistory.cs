using System.Globalization;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>The questions a caregiver answers before the sitting, and the consents on a page of their own.</summary>
public sealed class CaseHistory : IOutput
{
    public string Kind => "case-history";

    public string Purpose => "the caregiver's questions and consents";

    public IReadOnlyList<Artefact> Render(
        Protocol protocol,
        OutputOptions options,
        TemplateSource templates
    ) =>
        [
            new(
                "case-history.html",
                TemplateRenderer.Html(templates, "case-history/form.html", View(protocol, options)),
                true
            ),
        ];

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
            CaregiverTexts.CallToday
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

public sealed record CaseHistoryView(
    string Language,
    string Title,
    string Edition,
    PageView Page,
    IReadOnlyList<QuestionView> Questions,
    IReadOnlyList<string> Consents,
    IReadOnlyList<string> Before,
    string CallToday
);

/// <param name="Gates">What the examiner leaves out after which answer.</param>
public sealed record QuestionView(
    string Number,
    string Name,
    string Text,
    bool YesNo,
    IReadOnlyList<string> Gates
);
