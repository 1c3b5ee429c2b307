using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Editing;

/// <summary>A task's statement in a file.</summary>
/// <param name="Section">The section it stands under, or null at the margin.</param>
/// <param name="Among">The list that holds it.</param>
/// <param name="NextLine">The line of the next statement; null where none follows.</param>
internal sealed record TaskPlace(
    TaskBlock Task,
    SectionBlock? Section,
    List<Statement> Among,
    int Index,
    int? NextLine
)
{
    /// <summary>The task whose lines hold this one; null where it is another statement's.</summary>
    public static TaskPlace? Of(List<Statement> statements, int line)
    {
        var top = LastUpTo(statements, line);
        if (top < 0)
        {
            return null;
        }

        var after = LineOf(statements, top + 1);
        switch (statements[top])
        {
            case TaskBlock task:
                return new TaskPlace(task, null, statements, top, after);
            case SectionBlock section when LastUpTo(section.Body, line) is var inner and >= 0:
                return section.Body[inner] is TaskBlock own
                    ? new TaskPlace(
                        own,
                        section,
                        section.Body,
                        inner,
                        LineOf(section.Body, inner + 1) ?? after
                    )
                    : null;
            default:
                return null;
        }
    }

    /// <summary>Statements stand in the order of their lines.</summary>
    private static int LastUpTo(List<Statement> statements, int line)
    {
        var (low, high) = (0, statements.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = statements[middle].Place.Line <= line ? (middle + 1, high) : (low, middle);
        }

        return low - 1;
    }

    private static int? LineOf(List<Statement> statements, int index) =>
        index < statements.Count ? statements[index].Place.Line : null;
}
