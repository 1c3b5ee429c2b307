using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Editing;

namespace ProtocolKit.Language;

/// <summary>
/// Compiles a file again and again while it is written, as an editor does. An edit within a task, rule, letter or header,
/// or in a section's own line, is compiled by itself, in a small part of the time, unless a task gets other answers or many lines name
/// what was edited; any other edit compiles the whole text. What comes out is the same either way. For one file at a time, from one thread.
/// </summary>
/// <param name="modules">Asked again at each compilation: a module that changed compiles the whole.</param>
public sealed class CompilationCache(IModuleSource modules)
{
    private KeptText? _kept;

    /// <summary>How many of the texts so far were compiled by their edit alone.</summary>
    public int Reused { get; private set; }

    /// <summary>As <see cref="Compilation.Of(SourceText, IModuleSource)"/>.</summary>
    public Compilation Compile(SourceText source)
    {
        ArgumentNullException.ThrowIfNull(source);
        if (_kept is { } kept && kept.HasModulesOf(modules) && kept.Edited(source) is { } edited)
        {
            Reused++;
            return edited;
        }

        // A text with errors leaves what was kept: the next edit may well undo them.
        var compilation = Compilation.Of(source, modules, out var next);
        _kept = next?.Invoke() ?? _kept;
        return compilation;
    }
}
