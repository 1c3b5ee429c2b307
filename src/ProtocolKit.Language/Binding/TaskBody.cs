using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// The lines of a task after its family's: the task's own say, contact or help replaces the family's,
/// ticks are added to, answers may be added but not changed into another kind.
/// </summary>
internal sealed class TaskBody
{
    private readonly List<(Statement Line, bool Own)> _lines = [];

    public TaskBody(TaskBlock task, FamilyBlock? family, DiagnosticBag diagnostics)
    {
        CheckOnce(task.Body, diagnostics);
        if (family is not null)
        {
            CheckOnce(family.Body, diagnostics);
            var replaced = task.Body.Where(l => l is not (ResponseLine or TickLine)).Select(Key).ToHashSet();
            var answers = task.Body.OfType<ResponseLine>().ToLookup(NameOf, StringComparer.Ordinal);
            foreach (var line in family.Body)
            {
                if (line is ResponseLine response && answers[NameOf(response)].FirstOrDefault() is { } own)
                {
                    if (own.Kind != response.Kind)
                    {
                        diagnostics.Report(
                            own.Source,
                            own.Place,
                            MeaningMessages.Override(NameOf(own), family.Name.Text)
                        );
                    }

                    continue;
                }

                if (line is ResponseLine or TickLine || !replaced.Contains(Key(line)))
                {
                    _lines.Add((line, false));
                }
            }
        }

        _lines.AddRange(task.Body.Select(l => (l, true)));
    }

    public IReadOnlyList<(T Line, bool Own)> Of<T>()
        where T : Statement
    {
        List<(T, bool)>? found = null;
        foreach (var (line, own) in _lines)
        {
            if (line is T wanted)
            {
                (found ??= []).Add((wanted, own));
            }
        }

        return found ?? (IReadOnlyList<(T, bool)>)[];
    }

    /// <summary>The only line of its kind, or nothing.</summary>
    public (T? Line, bool Own) First<T>()
        where T : Statement => Of<T>() is [var first, ..] ? first : default;

    /// <summary>All texts of a kind, filled in.</summary>
    /// <param name="of">The environment of the task's own lines, or of its family's.</param>
    public IReadOnlyList<string> Texts(
        TextLineKind kind,
        Func<bool, Environment> of,
        IReadOnlyDictionary<string, string> words
    )
    {
        List<string>? texts = null;
        foreach (var (line, own) in _lines)
        {
            if (line is TextLine text && text.Kind == kind)
            {
                (texts ??= []).Add(of(own).Text(text.Text, text.Source, words));
            }
        }

        return texts ?? (IReadOnlyList<string>)[];
    }

    /// <summary>The name an answer goes by: its own, or its keyword.</summary>
    public static string NameOf(ResponseLine line) => line.Name?.Text ?? line.Keyword.Text;

    private static string Key(Statement line) =>
        line is TextLine text ? text.Kind.ToString() : line.GetType().Name;

    private static void CheckOnce(List<Statement> body, DiagnosticBag diagnostics)
    {
        var seen = new Dictionary<string, Statement>(body.Count, StringComparer.Ordinal);
        foreach (var line in body)
        {
            var key = line is ResponseLine response ? "answer " + NameOf(response) : Key(line);
            var repeats =
                line
                is TickLine
                    or SkipLine
                    or TextLine { Kind: TextLineKind.Say or TextLineKind.Show or TextLineKind.StopWhen };
            if (!seen.TryAdd(key, line) && !repeats)
            {
                diagnostics.Clash(line.At, seen[key].At, MeaningMessages.LineTwice(Words(line)));
            }
        }
    }

    private static string Words(Statement line) =>
        line switch
        {
            ResponseLine response =>
                $"{response.Keyword.Text} {(response.Name is null ? "" : response.Name.Text)}".TrimEnd(),
            TextLine text => text.Kind.ToString().ToLowerInvariant(),
            _ => line.GetType().Name.Replace("Line", "", StringComparison.Ordinal).ToLowerInvariant(),
        };
}
