using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.CSharp;

/// <summary>Scoring code as one static C# class that needs nothing but the base library.</summary>
public sealed class CSharpOutput : CodeOutput
{
    public override string Kind => "csharp";

    public override string Purpose => "scoring code: one C# class for any .NET project";

    protected override string TemplateName => "csharp/scoring.cs";

    /// <summary>The compiler allows 65,535 locals in a method; fields and helpers take some.</summary>
    protected override int MostLines => 40_000;

    /// <summary>The language's keywords, and names the template uses itself.</summary>
    protected override IReadOnlyList<string> Reserved { get; } =
        (
            "abstract as async await base bool break byte case catch char checked class const continue decimal "
            + "default delegate do double dynamic else enum event explicit extern false field file finally fixed "
            + "float for foreach goto if implicit in int interface internal is lock long nameof namespace new null "
            + "object operator out override params partial private protected public readonly record ref required "
            + "return sbyte scoped sealed short sizeof stackalloc static string struct switch this throw true try "
            + "typeof uint ulong unchecked unsafe ushort using value var virtual void volatile when where while "
            + "with yield and or not Math Pick fields"
        ).Split(' ');

    public override string FileName(Protocol protocol) => TypeName(protocol) + ".cs";

    public static string TypeName(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return CodeNames.OfType(protocol.Name) + "Scoring";
    }

    internal override int IndentOfLines => 8;

    internal override Raw Number(Rational value)
    {
        var text = value.ToString();
        var slash = text.IndexOf('/', StringComparison.Ordinal);
        return new Raw(slash < 0 ? text + "m" : $"({text[..slash]}m / {text[(slash + 1)..]}m)");
    }

    internal override ExpressionWriter Writer(IReadOnlyList<string> fields, IReadOnlyList<string> lines) =>
        new CSharpWriter(fields, lines);
}
