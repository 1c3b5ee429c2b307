using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Reports;

/// <summary>What changed between the sittings of one child, as a page with a plot a value.</summary>
public static class ReTestPage
{
    /// <exception cref="TemplateFaultException">A template is at fault.</exception>
    public static Artefact Render(ReTestReport report, OutputOptions options, TemplateSource templates)
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(options);
        return new(
            $"re-test-{FileNames.Safe(report.Case)}.html",
            TemplateRenderer.Html(templates, "re-test/page.html", View(report, options)),
            true
        )
        {
            Purpose = $"what changed between sittings of case {report.Case}",
        };
    }

    internal static ReTestView View(ReTestReport report, OutputOptions options) =>
        new(
            ReportFrame.Of(
                report.Protocol,
                "Between sittings",
                $"case {report.Case}, edition {report.Protocol.Edition}",
                options
            ),
            report.Case,
            [.. report.Sittings.Select(s => new FactView(s.Name, s.Text))],
            [.. report.Values.Select(v => Value(report, v))],
            report.Remarks,
            [
                Duties.NoDiagnosis.In(report.Protocol),
                Duties.NonSpeech.In(report.Protocol),
                Duties.Languages.In(report.Protocol),
                Duties.WhoGives.In(report.Protocol),
            ]
        );

    private static ReTestValueView Value(ReTestReport report, ReTestValue value) =>
        new(
            value.ReTest.Outcome.Title,
            [
                .. value.Answers.Select(a => new FactView(
                    $"{report.Sittings[a.From].Name} to {report.Sittings[a.To].Name}",
                    a.Says
                )),
            ],
            value.Basis,
            value.Known.Any(k => k is not null) ? SittingsChart.Of(report.Sittings, value) : null
        );
}

/// <summary>What the template of the page on change sees.</summary>
/// <param name="Frame">Letterhead, page and foot.</param>
/// <param name="CaseCode">Of the child.</param>
/// <param name="Sittings">The days compared.</param>
/// <param name="Values">Each score with its answer.</param>
/// <param name="Remarks">What makes sittings hard to compare.</param>
/// <param name="Limits">What the figures can’t say; the duties of every report.</param>
public sealed record ReTestView(
    FrameView Frame,
    string CaseCode,
    IReadOnlyList<FactView> Sittings,
    IReadOnlyList<ReTestValueView> Values,
    IReadOnlyList<string> Remarks,
    IReadOnlyList<string> Limits
);

/// <param name="Title">Of the score or measure.</param>
/// <param name="Answers">For each pair of sittings: beyond error, within it, or not to be said.</param>
/// <param name="Basis">Where the error comes from.</param>
/// <param name="Plot">Null where no sitting has a value.</param>
public sealed record ReTestValueView(
    string Title,
    IReadOnlyList<FactView> Answers,
    string Basis,
    ChartView? Plot
);
