using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// The lines of a task or family by what they say: a text of a kind, an answer of a name, or a line of its sort. A task has a
/// handful of lines, which are quicker looked through than sorted; a hostile one has thousands.
/// </summary>
internal sealed class LinesByKind(List<Statement> body)
{
    private const int Few = 12;
    private Dictionary<object, Statement>? _byKey;

    /// <summary>The first line that says the same as this one, or null.</summary>
    public Statement? First(Statement like)
    {
        if (body.Count > Few)
        {
            return (_byKey ??= Sort()).GetValueOrDefault(Key(like));
        }

        foreach (var line in body)
        {
            if (IsSame(line, like))
            {
                return line;
            }
        }

        return null;
    }

    private Dictionary<object, Statement> Sort()
    {
        var sorted = new Dictionary<object, Statement>(body.Count);
        foreach (var line in body)
        {
            sorted.TryAdd(Key(line), line);
        }

        return sorted;
    }

    private static object Key(Statement line) =>
        line switch
        {
            TextLine text => text.Kind,
            ResponseLine response => TaskBody.NameOf(response),
            _ => line.GetType(),
        };

    private static bool IsSame(Statement a, Statement b) =>
        (a, b) switch
        {
            (TextLine x, TextLine y) => x.Kind == y.Kind,
            (ResponseLine x, ResponseLine y) => TaskBody.NameOf(x) == TaskBody.NameOf(y),
            _ => a.GetType() == b.GetType(),
        };
}
