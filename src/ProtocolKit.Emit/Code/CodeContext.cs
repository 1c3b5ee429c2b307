using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Code;

/// <summary>
/// Code has no single way of escaping: a value is a string here and a comment there. So only what a literal
/// writer has written may be printed.
/// </summary>
internal sealed class CodeContext : StrictContext
{
    protected override string Literal(string text) =>
        throw new TemplateFaultException(
            "A template of code may print only what a literal writer has written for it."
        );
}
