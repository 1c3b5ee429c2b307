using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>One file read into statements.</summary>
internal sealed record SourceUnit(SourceText Source, IReadOnlyList<Statement> Statements)
{
    public Statement? Header => Statements.FirstOrDefault(s => s is ProtocolHeader or ModuleHeader);
}
