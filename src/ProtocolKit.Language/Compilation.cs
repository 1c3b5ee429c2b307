using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;

namespace ProtocolKit.Language;

/// <summary>A compiled text: immutable, shared by command line and editor.</summary>
/// <param name="Protocol">Null where there are errors.</param>
/// <param name="Diagnostics">By file and place.</param>
/// <param name="Omitted">Diagnostics beyond the bound of what is kept.</param>
public sealed record Compilation(Protocol? Protocol, IReadOnlyList<Diagnostic> Diagnostics, int Omitted)
{
    public bool HasErrors => Protocol is null;

    /// <summary>Reads a protocol with the modules it uses and checks it. Never throws on any text.</summary>
    public static Compilation Of(SourceText source, IModuleSource modules)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(modules);
        var diagnostics = new DiagnosticBag();
        var loader = new ModuleLoader(modules, diagnostics);
        var units = loader.Load(source);
        var protocol =
            units.Count == 0 ? null : new ProtocolBinder(units, loader.AllFound, diagnostics).Bind();
        return new Compilation(
            diagnostics.HasErrors ? null : protocol,
            diagnostics.Sorted(),
            diagnostics.Omitted
        );
    }
}

/// <summary>A source without modules.</summary>
public sealed class NoModules : IModuleSource
{
    public IEnumerable<string> Names => [];

    public SourceText? Find(string name) => null;
}
