using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Declared things of one kind by name. A name used twice is reported with its first place; a name whose
/// line was broken is remembered, so that its uses are not reported as well.
/// </summary>
internal sealed class Symbols<T>(string kind, DiagnosticBag diagnostics)
    where T : class
{
    private readonly Dictionary<string, (T Value, SourceText Source, Place Place)> _byName = new(
        StringComparer.Ordinal
    );
    private readonly HashSet<string> _broken = new(StringComparer.Ordinal);

    public IEnumerable<string> Names => _byName.Keys;
    public IEnumerable<T> Values => _byName.Values.Select(v => v.Value);

    public bool Declare(Word name, SourceText source, T value)
    {
        if (_byName.TryGetValue(name.Text, out var first))
        {
            diagnostics.Report(
                source,
                name.Place,
                NameMessages.Twice(kind, name.Text),
                new Related(first.Source, first.Place, "It is declared here first.")
            );
            return false;
        }

        NameSpelling.Check(name, source, diagnostics);
        _byName[name.Text] = (value, source, name.Place);
        return true;
    }

    public void Forgive(string name) => _broken.Add(name);

    public bool IsBroken(string name) => _broken.Contains(name);

    public T? Find(string name) => _byName.TryGetValue(name, out var found) ? found.Value : null;

    /// <summary>The named thing, or null after reporting.</summary>
    public T? Require(Word name, SourceText source)
    {
        if (Find(name.Text) is { } found)
        {
            return found;
        }

        if (!IsBroken(name.Text))
        {
            diagnostics.Report(
                source,
                name.Place,
                NameMessages.Unknown(kind, name.Text, Suggest.Nearest(name.Text, Names))
            );
        }

        return null;
    }
}

internal static class NameSpelling
{
    public static void Check(Word name, SourceText source, DiagnosticBag diagnostics)
    {
        if (name.Text.AsSpan().IndexOfAny('.', '_') < 0 && !HasUpper(name.Text) && name.Text.Length <= 60)
        {
            return;
        }

        diagnostics.Report(source, name.Place, NameMessages.Spelling(name.Text, Better(name.Text)));
    }

    private static bool HasUpper(string text)
    {
        foreach (var c in text)
        {
            if (char.IsAsciiLetterUpper(c))
            {
                return true;
            }
        }

        return false;
    }

    private static string Better(string name)
    {
        var better = new System.Text.StringBuilder();
        for (var i = 0; i < Math.Min(name.Length, 60); i++)
        {
            var c = name[i];
            if (char.IsAsciiLetterUpper(c) && i > 0 && char.IsAsciiLetterLower(name[i - 1]))
            {
                better.Append('-');
            }

            better.Append(c == '.' ? '-' : char.ToLowerInvariant(c));
        }

        return better.ToString();
    }
}
