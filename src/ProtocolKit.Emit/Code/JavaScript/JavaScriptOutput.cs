using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.JavaScript;

/// <summary>Scoring code as a JavaScript module that needs nothing else.</summary>
public class JavaScriptOutput : CodeOutput
{
    public override string Kind => "javascript";

    public override string Purpose =>
        "scoring code: a JavaScript module for browsers, Node and embedded engines";

    protected override string TemplateName => "javascript/scoring.mjs";

    /// <summary>Words of ECMA-262 that can't name a constant in a module, and names the template uses itself.</summary>
    protected override IReadOnlyList<string> Reserved { get; } =
        (
            "arguments as async await break case catch class const continue debugger default delete do else enum "
            + "eval export extends false finally for from function get if implements import in instanceof "
            + "interface let new null of package private protected public return set static super switch this "
            + "throw true try typeof undefined var void while with yield Infinity NaN Math Map Object Number "
            + "String fields pick"
        ).Split(' ');

    public override string FileName(Protocol protocol) => protocol.Name + ".mjs";

    internal override int IndentOfLines => 2;

    internal override Raw Number(Rational value)
    {
        var text = value.ToString();
        return new Raw(text.Contains('/', StringComparison.Ordinal) ? $"({text})" : text);
    }

    internal override ExpressionWriter Writer(IReadOnlyList<string> fields, IReadOnlyList<string> lines) =>
        new JavaScriptWriter(fields, lines);
}
