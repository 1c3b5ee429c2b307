using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Python;

/// <summary>Scoring code as a Python module that needs nothing but the standard library, from 3.9 on.</summary>
public sealed class PythonOutput : CodeOutput
{
    public override string Kind => "python";

    public override string Purpose => "scoring code: a Python module, 3.9 or later";

    protected override string TemplateName => "python/scoring.py";

    /// <summary>The language's keywords, and names that lines use; the template's own begin with a low line.</summary>
    protected override IReadOnlyList<string> Reserved { get; } =
        (
            "False None True and as assert async await break class continue def del elif else except finally "
            + "for from global if import in is lambda nonlocal not or pass raise return try while with yield "
            + "match case type int min max fields"
        ).Split(' ');

    public override string FileName(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return Names().Of(protocol.Name) + ".py";
    }

    internal override int IndentOfLines => 4;

    internal override bool BracketsLongExpressions => true;

    internal override Raw Nothing => new("None");

    internal override Raw Truth(bool value) => new(value ? "True" : "False");

    internal override Raw Number(Rational value)
    {
        var text = value.ToString();
        return new Raw(text.Contains('/', StringComparison.Ordinal) ? $"({text})" : text);
    }

    internal override ExpressionWriter Writer(IReadOnlyList<string> fields, IReadOnlyList<string> lines) =>
        new PythonWriter(fields, lines);
}
