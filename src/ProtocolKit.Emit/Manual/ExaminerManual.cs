using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Manual;

/// <summary>The manual an examiner learns from and looks things up in, and a page of all that was proved.</summary>
public sealed class ExaminerManual : IOutput
{
    public string Kind => "manual";

    public string Purpose => "examiner manual";

    public IReadOnlyList<Artefact> Render(Protocol protocol, OutputOptions options, TemplateSource templates)
    {
        ArgumentNullException.ThrowIfNull(options);
        var manual = ManualViews.Of(protocol, options);
        var proofs = ProofViews.Page(protocol, options);
        return
        [
            new("manual.html", TemplateRenderer.Html(templates, "manual/manual.html", manual), true)
            {
                Purpose = "manual: limits, materials, every task, scoring, cut-offs with what they rest on",
                Contents = [.. manual.Contents.Select(c => c.Title)],
            },
            new("proofs.html", TemplateRenderer.Html(templates, "proofs/page.html", proofs), true)
            {
                Purpose = "technical page: what is proved of every possible record, and what is not",
            },
        ];
    }
}
