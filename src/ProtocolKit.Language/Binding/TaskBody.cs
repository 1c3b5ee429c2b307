using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// The lines of a task after its family's: the task's own say, contact or help replaces the family's,
/// ticks are added to, answers may be added but not changed into another kind.
/// </summary>
internal sealed class TaskBody
{
    private readonly List<(Statement Line, bool Own)> _lines;

    public TaskBody(TaskBlock task, FamilyBlock? family, DiagnosticBag diagnostics)
    {
        _lines = new List<(Statement, bool)>(task.Body.Count + (family?.Body.Count ?? 0));
        var own = new LinesByKind(task.Body);
        CheckOnce(task.Body, own, diagnostics);
        if (family is not null)
        {
            AddOf(family, own, diagnostics);
        }

        foreach (var line in task.Body)
        {
            _lines.Add((line, true));
        }
    }

    /// <summary>The family's lines that the task doesn't replace.</summary>
    private void AddOf(FamilyBlock family, LinesByKind own, DiagnosticBag diagnostics)
    {
        foreach (var line in family.Body)
        {
            if (line is TickLine || own.First(line) is not { } replacing)
            {
                _lines.Add((line, false));
            }
            else if (replacing is ResponseLine answer && answer.Kind != ((ResponseLine)line).Kind)
            {
                diagnostics.Report(
                    answer.Source,
                    answer.Place,
                    MeaningMessages.Override(NameOf(answer), family.Name.Text)
                );
            }
        }
    }

    public IReadOnlyList<(Statement Line, bool Own)> Lines => _lines;

    public IReadOnlyList<(T Line, bool Own)> Of<T>()
        where T : Statement
    {
        List<(T, bool)>? found = null;
        foreach (var (line, own) in _lines)
        {
            // Quicker than to ask whether it is one, as no kind of line has kinds of its own.
            if (line.GetType() == typeof(T))
            {
                (found ??= new(1)).Add(((T)line, own));
            }
        }

        return found ?? (IReadOnlyList<(T, bool)>)[];
    }

    /// <summary>The only line of its kind, or nothing.</summary>
    public (T? Line, bool Own) First<T>()
        where T : Statement
    {
        foreach (var (line, own) in _lines)
        {
            if (line.GetType() == typeof(T))
            {
                return ((T)line, own);
            }
        }

        return default;
    }

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
                (texts ??= new(1)).Add(of(own).Text(text.Text, text.Source, words));
            }
        }

        return texts ?? (IReadOnlyList<string>)[];
    }

    /// <summary>The name an answer goes by: its own, or its keyword.</summary>
    public static string NameOf(ResponseLine line) => line.Name?.Text ?? line.Keyword.Text;

    /// <summary>Tells of lines of a family that say the same; those of a task are looked at with it.</summary>
    public static void CheckOnce(FamilyBlock family, DiagnosticBag diagnostics) =>
        CheckOnce(family.Body, new LinesByKind(family.Body), diagnostics);

    private static void CheckOnce(List<Statement> body, LinesByKind lines, DiagnosticBag diagnostics)
    {
        foreach (var line in body)
        {
            var repeats =
                line
                is TickLine
                    or SkipLine
                    or TextLine { Kind: TextLineKind.Say or TextLineKind.Show or TextLineKind.StopWhen };
            if (!repeats && lines.First(line) is { } first && !ReferenceEquals(first, line))
            {
                diagnostics.Clash(line.At, first.At, MeaningMessages.LineTwice(Words(line)));
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
