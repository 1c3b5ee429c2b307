using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Editing;

/// <summary>A statement in a file: one at the margin, or a task, measure or score of a section.</summary>
/// <param name="Section">The section it stands under, or null at the margin.</param>
/// <param name="Among">The list that holds it.</param>
/// <param name="Line">The line where it begins.</param>
/// <param name="NextLine">The line of the next statement; null where none follows.</param>
internal sealed record BlockPlace(
    Statement Block,
    SectionBlock? Section,
    List<Statement> Among,
    int Index,
    int Line,
    int? NextLine,
    LineMap Lines
)
{
    /// <summary>The statement whose lines hold these: a section where they are its own; null before the first.</summary>
    public static BlockPlace? Of(List<Statement> statements, int line, int last, LineMap lines)
    {
        var top = LastUpTo(statements, line, lines);
        if (top < 0)
        {
            return null;
        }

        var place = new BlockPlace(
            statements[top],
            null,
            statements,
            top,
            lines.Now(statements[top].Place.Line),
            LineOf(statements, top + 1, lines),
            lines
        );
        if (place.Block is SectionBlock section)
        {
            var inner = LastUpTo(section.Body, line, lines);
            place =
                inner < 0
                    ? place with
                    {
                        NextLine = LineOf(section.Body, 0, lines) ?? place.NextLine,
                    }
                    : place with
                    {
                        Block = section.Body[inner],
                        Section = section,
                        Among = section.Body,
                        Index = inner,
                        Line = lines.Now(section.Body[inner].Place.Line),
                        NextLine = LineOf(section.Body, inner + 1, lines) ?? place.NextLine,
                    };
        }

        return place.NextLine is { } next && last >= next ? null : place;
    }

    /// <summary>Whether a place lies in its lines, as they were read before or under new numbers.</summary>
    public bool Holds(Place place) =>
        place.Line >= Lines.Fresh
        || (Lines.Now(place.Line) is var line && line >= Line && (NextLine is not { } next || line < next));

    /// <summary>Statements stand in the order of their lines.</summary>
    private static int LastUpTo(List<Statement> statements, int line, LineMap lines)
    {
        var (low, high) = (0, statements.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) =
                lines.Now(statements[middle].Place.Line) <= line ? (middle + 1, high) : (low, middle);
        }

        return low - 1;
    }

    private static int? LineOf(List<Statement> statements, int index, LineMap lines) =>
        index < statements.Count ? lines.Now(statements[index].Place.Line) : null;
}
