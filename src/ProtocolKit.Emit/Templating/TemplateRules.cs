using Scriban.Syntax;

namespace ProtocolKit.Emit.Templating;

/// <summary>
/// What a template may not contain: constructs that turn output into a value again (it would be escaped
/// twice, or pass for a protocol's text) or that reach outside the model they were given.
/// </summary>
internal sealed class TemplateRules : ScriptVisitor
{
    private readonly string _template;

    private TemplateRules(string template) => _template = template;

    /// <exception cref="TemplateFaultException">The template uses a forbidden construct.</exception>
    public static void Check(string template, ScriptPage page) => new TemplateRules(template).Visit(page);

    public override void Visit(ScriptCaptureStatement node) => Refuse(node, "capture");

    public override void Visit(ScriptWrapStatement node) => Refuse(node, "wrap");

    public override void Visit(ScriptImportStatement node) => Refuse(node, "import");

    public override void Visit(ScriptTableRowStatement node) => Refuse(node, "tablerow");

    public override void Visit(ScriptAnonymousFunction node) => Refuse(node, "do");

    public override void Visit(ScriptFunction node)
    {
        // A one-line function is an expression; one with a body collects output.
        if (node.Body is not ScriptExpressionStatement)
        {
            Refuse(node, "func");
        }

        base.Visit(node);
    }

    private void Refuse(ScriptNode node, string what) =>
        throw new TemplateFaultException(
            $"{_template} line {node.Span.Start.Line + 1}: \"{what}\" may not be used in a template here. "
                + "Use a template of its own with include, or prepare the value in the view."
        );
}
