using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Declared things of one kind by name. A name used twice is reported with its first place; a name whose
/// line was broken is remembered, so that its uses are not reported as well.
/// </summary>
/// <param name="allFound">False where a module is missing: an unknown name is then told only where it looks misspelt.</param>
/// <param name="expected">About how many there will be.</param>
internal sealed class Symbols<T>(
    string kind,
    DiagnosticBag diagnostics,
    bool allFound = true,
    int expected = 0
)
    where T : class
{
    private readonly Dictionary<string, (T Value, SourceText Source, Place Place)> _byName = new(
        expected,
        StringComparer.Ordinal
    );
    private readonly HashSet<string> _broken = new(StringComparer.Ordinal);

    public IEnumerable<string> Names => _byName.Keys;
    public IEnumerable<T> Values => _byName.Values.Select(v => v.Value);

    public bool Declare(Word name, SourceText source, T value)
    {
        if (IsTaken(name, source))
        {
            return false;
        }

        NameSpelling.Check(name, source, diagnostics);
        _byName[name.Text] = (value, source, name.Place);
        return true;
    }

    /// <summary>True, after reporting, where the name is declared already.</summary>
    public bool IsTaken(Word name, SourceText source)
    {
        if (!_byName.TryGetValue(name.Text, out var first))
        {
            return false;
        }

        diagnostics.Report(
            source,
            name.Place,
            NameMessages.Twice(KindOf?.Invoke(first.Value) ?? kind, name.Text),
            new Related(first.Source, first.Place, "It is declared here first.")
        );
        return true;
    }

    /// <summary>A thing read anew, in the place of the one of the same name.</summary>
    public void Replace(Word name, SourceText source, T value, Undo undo)
    {
        var before = _byName[name.Text];
        undo.Add(() => _byName[name.Text] = before);
        _byName[name.Text] = (value, source, name.Place);
    }

    /// <summary>A thing under another name, in its place among the others; false where the name is taken.</summary>
    public bool Rename(string old, Word name, SourceText source, T value, Undo undo)
    {
        if (_byName.ContainsKey(name.Text))
        {
            return false;
        }

        // What is put in next takes the place of what was taken out.
        var before = _byName[old];
        _byName.Remove(old);
        _byName.Add(name.Text, (value, source, name.Place));
        undo.Add(() =>
        {
            _byName.Remove(name.Text);
            _byName.Add(old, before);
        });
        NameSpelling.Check(name, source, diagnostics);
        return true;
    }

    /// <summary>Takes a thing out.</summary>
    public void Remove(string name, Undo undo)
    {
        var before = _byName[name];
        undo.Add(() => _byName[name] = before);
        _byName.Remove(name);
    }

    /// <summary>Forgives a name for a while.</summary>
    public void Forgive(string name, Undo undo)
    {
        if (_broken.Add(name))
        {
            undo.Add(() => Recall(name));
        }
    }

    /// <summary>What a declared thing is called where it is not what all of them are.</summary>
    public Func<T, string>? KindOf { get; init; }

    public void Forgive(string name) => _broken.Add(name);

    public void Recall(string name) => _broken.Remove(name);

    public bool IsBroken(string name) => _broken.Contains(name);

    public T? Find(string name) => _byName.TryGetValue(name, out var found) ? found.Value : null;

    /// <summary>The named thing, or null after reporting.</summary>
    public T? Require(Word name, SourceText source)
    {
        if (Find(name.Text) is { } found)
        {
            return found;
        }

        var nearest = diagnostics.Nearest(name.Text, Names);
        if (!IsBroken(name.Text) && (allFound || nearest is not null))
        {
            diagnostics.Report(source, name.Place, NameMessages.Unknown(kind, name.Text, nearest));
        }

        return null;
    }
}
