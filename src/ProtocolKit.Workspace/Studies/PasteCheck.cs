using ProtocolKit.Language;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Workspace.Studies;

/// <summary>
/// Puts a block where the protocol, or a module of it, has one like it, compiles the whole, and proves that nothing is
/// lost by it: no band, no action, no claim.
/// </summary>
public static class PasteCheck
{
    /// <summary>Which blocks can be pasted, and a sentence about each of the others.</summary>
    public static (IReadOnlyList<PasteBlock> Offered, IReadOnlyList<string> Refused) Offered(
        ProtocolFile file,
        IReadOnlyList<PasteBlock> blocks,
        bool wholeProof = true
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(blocks);
        var proof = new PasteProof(file);
        var offered = new List<PasteBlock>();
        var refused = new List<string>();
        foreach (var block in blocks)
        {
            if (FirstError(file, block) is { } error)
            {
                refused.Add(
                    $"{block.Title}: not offered, because in the protocol's place it doesn't compile. {error}"
                );
            }
            else if (proof.BandsOf(block) is var verdict && verdict.Loss is { } loss)
            {
                refused.Add(Fault(block, loss));
            }
            else
            {
                offered.Add(block with { NotProved = verdict.NotProved });
            }
        }

        return (wholeProof ? Together(proof, offered, refused) : offered, refused);
    }

    /// <summary>
    /// Actions and claims look at several scores, so the blocks are proved all together; only where that finds a fault is it
    /// asked which of them brings it.
    /// </summary>
    private static List<PasteBlock> Together(PasteProof proof, List<PasteBlock> offered, List<string> refused)
    {
        var whole = proof.Of(offered);
        if (whole.Loss is null)
        {
            return
            [
                .. offered.Select(b =>
                    PasteProof.BearsBands(b) && b.NotProved.Length == 0
                        ? b with
                        {
                            NotProved = whole.NotProved,
                        }
                        : b
                ),
            ];
        }

        var kept = new List<PasteBlock>();
        foreach (var block in offered)
        {
            // One after the other: a block is kept where it does no harm beside those kept before it.
            if (proof.Of([.. kept, block]).Loss is { } loss)
            {
                refused.Add(Fault(block, loss));
            }
            else
            {
                kept.Add(block);
            }
        }

        return kept;
    }

    private static string Fault(PasteBlock block, string loss) =>
        $"{block.Title}: not offered, because with it the protocol would have a fault it has not now. {loss}";

    /// <summary>The first error the protocol would have with this block; null where it compiles.</summary>
    public static string? FirstError(ProtocolFile file, PasteBlock block)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(block);
        var compilation = Compile(file, [block]);
        return compilation.Protocol is not null
            ? null
            : compilation
                .Diagnostics.Where(d => d.Severity == Severity.Error)
                .Select(d => d.Message.Text)
                .FirstOrDefault("It has errors.");
    }

    /// <summary>The protocol with blocks in place of those they replace; a block with none to replace goes to the end.</summary>
    public static Compilation Compile(ProtocolFile file, IReadOnlyList<PasteBlock> blocks)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(blocks);
        var modules = new ModuleFolders(file.Path);
        var text = file.Source.Text;
        var changed = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var block in blocks)
        {
            if (Replaced(text, block.Text) is { } here)
            {
                text = here;
            }
            else if (InModule(modules, changed, block.Text) is var (name, there))
            {
                changed[name] = there;
            }
            else
            {
                text = text.TrimEnd('\n') + "\n\n" + block.Text;
            }
        }

        return Compilation.Of(new SourceText(file.Source.Name, text), new ChangedModules(modules, changed));
    }

    /// <summary>The text with the block that has the same first line replaced; null where it has none.</summary>
    public static string? Replaced(string text, string block)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(block);
        var head = block.Split('\n')[0].TrimEnd();
        var lines = text.Split('\n').ToList();
        var start = lines.FindIndex(l => l.TrimEnd() == head);
        if (start < 0)
        {
            return null;
        }

        var end = start + 1;
        while (end < lines.Count && lines[end].StartsWith(' '))
        {
            end++;
        }

        lines.RemoveRange(start, end - start);
        lines.InsertRange(start, block.TrimEnd('\n').Split('\n'));
        return string.Join('\n', lines);
    }

    private static (string Name, string Text)? InModule(
        ModuleFolders modules,
        Dictionary<string, string> changed,
        string block
    )
    {
        foreach (var name in modules.Names)
        {
            var text = changed.TryGetValue(name, out var already) ? already : modules.Find(name)?.Text;
            if (text is not null && Replaced(text, block) is { } there)
            {
                return (name, there);
            }
        }

        return null;
    }

    private sealed class ChangedModules(IModuleSource inner, Dictionary<string, string> changed)
        : IModuleSource
    {
        public IEnumerable<string> Names => inner.Names;

        public SourceText? Find(string name) =>
            inner.Find(name) is { } found && changed.TryGetValue(name, out var text)
                ? new SourceText(found.Name, text)
                : inner.Find(name);
    }
}
