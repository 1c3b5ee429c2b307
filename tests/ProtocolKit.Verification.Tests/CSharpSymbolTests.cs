using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;
using ProtocolKit.Emit.Code.CSharp;
using ProtocolKit.Emit.Templating;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Verification.Tests;

/// <summary>What emitted C# may call, read from the compiler's symbols and not from its text.</summary>
public class CSharpSymbolTests
{
    /// <summary>Types of the base library that hold, compare and print values and reach nothing outside.</summary>
    private static readonly HashSet<string> Harmless =
    [
        "object",
        "string",
        "bool",
        "char",
        "int",
        "long",
        "short",
        "byte",
        "void",
        "double",
        "decimal",
        "float",
        "System.Math",
        "System.Array",
        "System.Convert",
        "System.Enum",
        "System.Func",
        "System.IFormattable",
        "System.Nullable",
        "System.OverflowException",
        "System.StringComparison",
        "System.StringComparer",
        "System.ValueType",
        "System.Globalization.CultureInfo",
        "System.Globalization.NumberStyles",
        "System.Linq.Enumerable",
        "System.Collections.Generic.Dictionary",
        "System.Collections.Generic.HashSet",
        "System.Collections.Generic.List",
        "System.Collections.Generic.IEnumerable",
        "System.Collections.Generic.IReadOnlyList",
        "System.Collections.Generic.IReadOnlyCollection",
        "System.Collections.Generic.ICollection",
        "System.Collections.Generic.KeyValuePair",
    ];

    [Fact]
    public void The_scoring_lines_call_nothing_but_arithmetic()
    {
        var (tree, model) = Compiled("title");
        var scoring = tree.GetRoot()
            .DescendantNodes()
            .OfType<MethodDeclarationSyntax>()
            .Single(m => m.Identifier.Text == "ScoreFields");
        var called = scoring
            .DescendantNodes()
            .OfType<InvocationExpressionSyntax>()
            .Select(i => model.GetSymbolInfo(i).Symbol!.ToDisplayString().Split('(')[0])
            .Select(n => n.EndsWith(".Pick", StringComparison.Ordinal) ? "Pick" : n)
            .ToHashSet();

        Assert.Subset(new HashSet<string> { "System.Math.Min", "System.Math.Max", "Pick" }, called);
        Assert.NotEmpty(called);
    }

    [Fact]
    public void Nothing_in_the_file_reaches_outside_whatever_the_texts()
    {
        var texts = HostileTextTests.AllAtOnce;
        var (tree, model) = Compiled(texts);
        var used = tree.GetRoot()
            .DescendantNodes()
            .Select(n => model.GetSymbolInfo(n).Symbol)
            .Select(s => s as INamedTypeSymbol ?? s?.ContainingType)
            .Where(t => t is not null && !t.Locations.Any(l => l.IsInSource) && !t.IsAnonymousType)
            .Select(t => NameOf(t!))
            .ToHashSet();

        Assert.Empty(used.Except(Harmless));
    }

    [Fact]
    public void A_call_that_reaches_outside_would_be_seen() =>
        Assert.DoesNotContain("System.IO.File", Harmless);

    private static string NameOf(INamedTypeSymbol type) =>
        type.OriginalDefinition.SpecialType == SpecialType.System_Nullable_T
            ? "System.Nullable"
            : type.OriginalDefinition.ToDisplayString().Split('<')[0];

    private static (SyntaxTree Tree, SemanticModel Model) Compiled(string title)
    {
        var code = new CSharpOutput().Text(SampleScreen.Protocol(title), TemplateSource.BuiltIn);
        var tree = CSharpSyntaxTree.ParseText(code);
        var references = ((string)AppContext.GetData("TRUSTED_PLATFORM_ASSEMBLIES")!)
            .Split(Path.PathSeparator)
            .Where(p => Path.GetFileName(p).StartsWith("System.", StringComparison.Ordinal))
            .Select(p => MetadataReference.CreateFromFile(p));
        var compilation = CSharpCompilation.Create(
            "emitted",
            [tree],
            references,
            new CSharpCompilationOptions(OutputKind.DynamicallyLinkedLibrary)
        );
        Assert.Empty(compilation.GetDiagnostics().Where(d => d.Severity == DiagnosticSeverity.Error));
        return (tree, compilation.GetSemanticModel(tree));
    }
}
