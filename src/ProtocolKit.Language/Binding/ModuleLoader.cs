using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Parsing;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>Where modules come from. The language itself touches no files.</summary>
public interface IModuleSource
{
    /// <summary>The module's text, or null where there is none.</summary>
    SourceText? Find(string name);

    /// <summary>Names that could have been meant.</summary>
    IEnumerable<string> Names { get; }
}

/// <summary>
/// Reads a file and the modules it uses, each once, used ones before their users. Cycles and missing
/// modules are reported at the <c>use</c> line.
/// </summary>
internal sealed class ModuleLoader(IModuleSource modules, DiagnosticBag diagnostics)
{
    private const int DeepestChain = 50;

    private readonly Dictionary<string, SourceUnit?> _loaded = new(StringComparer.Ordinal);
    private readonly List<string> _open = [];
    private readonly List<SourceUnit> _units = [];

    /// <summary>False where a module is missing: what it declares is unknown, and so its names are no mistakes.</summary>
    public bool AllFound { get; private set; } = true;

    /// <summary>All units in the order in which they may be bound; the last is the file itself.</summary>
    public IReadOnlyList<SourceUnit> Load(SourceText main)
    {
        if (Read(main) is { } unit)
        {
            Follow(unit);
            _units.Add(unit);
        }

        return _units;
    }

    /// <summary>False for what is too large or holds characters that no text has.</summary>
    public static bool IsText(SourceText source) =>
        source.Text.Length <= SourceLines.LongestFile && !source.Text.AsSpan().ContainsAny('\0', '\uFFFD');

    private SourceUnit? Read(SourceText source)
    {
        return SourceLines.Of(source, diagnostics) is { } lines
            ? new SourceUnit(source, new StatementReader(source, diagnostics).Read(lines))
            : null;
    }

    private void Follow(SourceUnit unit)
    {
        foreach (var use in unit.Statements.OfType<UseLine>())
        {
            Use(use);
        }
    }

    private void Use(UseLine use)
    {
        var name = use.Module.Text;
        if (_open.Contains(name, StringComparer.Ordinal))
        {
            var path = string.Join(", then ", _open.SkipWhile(n => n != name).Append(name));
            diagnostics.Report(use.Source, use.Module.Place, NameMessages.Cycle(path));
        }
        else if (_open.Count == DeepestChain)
        {
            diagnostics.Report(use.Source, use.Module.Place, NameMessages.LongChain(DeepestChain));
            AllFound = false;
        }
        else if (!_loaded.ContainsKey(name) && Find(use, name) is { } unit)
        {
            _open.Add(name);
            Follow(unit);
            _open.RemoveAt(_open.Count - 1);
            _units.Add(unit);
        }
    }

    /// <summary>The module, read; null after reporting.</summary>
    private SourceUnit? Find(UseLine use, string name)
    {
        _loaded[name] = null;
        var source = modules.Find(name);
        if (source is null)
        {
            diagnostics.Report(
                use.Source,
                use.Module.Place,
                NameMessages.NoModule(name, diagnostics.Nearest(name, modules.Names))
            );
        }
        else if (Read(source) is { } unit)
        {
            if (unit.Header is not ProtocolHeader)
            {
                return _loaded[name] = unit;
            }

            diagnostics.Report(use.Source, use.Module.Place, NameMessages.WrongFile(name, wantsModule: true));
        }

        AllFound = false;
        return null;
    }
}
