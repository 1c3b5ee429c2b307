using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Formatting;

/// <summary>
/// Columns of neighbouring lines: in the body of a header, task or family what follows the first words; elsewhere texts that
/// follow one word; and what follows the names of statements of one kind, each on its line.
/// </summary>
internal static class Columns
{
    /// <summary>A longer word stands for itself: the others need not keep their distance from it.</summary>
    private const int LongestInColumn = 24;

    private static readonly HashSet<string> Bodies = ["protocol", "module", "task", "family"];

    /// <summary>Words that belong to the first word of their line, as in <c>stop when</c>.</summary>
    private static readonly HashSet<string> SecondWords =
    [
        "when",
        "form",
        "after",
        "at",
        "below",
        "blocks",
        "by",
        "for",
        "from",
        "if",
        "is",
        "of",
        "on",
        "order",
        "range",
        "scaled",
        "timing",
        "unless",
        "until",
        "with",
    ];

    /// <summary>Aligns what follows the first word, in each group of lines without a blank line between.</summary>
    /// <param name="word">The word of the statement they stand under.</param>
    public static void AlignBody(SourceText source, string word, IReadOnlyList<CodeLine> lines)
    {
        var wantsText = !Bodies.Contains(word);
        foreach (var group in Groups(lines, (before, next) => HasBlank(source, before.Number, next.Number)))
        {
            Align([.. group.Where(l => HasArgument(l) && (!wantsText || (!l.HasMore && IsText(l, 1))))], 1);
        }
    }

    /// <summary>Aligns what follows the name in lines of one kind that stand directly under each other.</summary>
    public static void AlignRuns(IReadOnlyList<CodeLine> lines)
    {
        var groups = Groups(
            lines,
            (before, next) =>
                next.Number != before.Number + 1 || next.Piece(0) != before.Piece(0) || !IsNamed(next)
        );
        foreach (var group in groups)
        {
            Align([.. group.Where(IsNamed)], 2);
        }
    }

    private static bool HasBlank(SourceText source, int from, int to)
    {
        for (var line = from + 1; line < to; line++)
        {
            if (source.LineSpan(line).Trim(" \t\r").Length == 0)
            {
                return true;
            }
        }

        return false;
    }

    private static bool HasArgument(CodeLine line) =>
        line.Tokens.Length > 1
        && line.BeginsWith(TokenKind.Name)
        && line.Gaps[1] > 0
        && !(line.Tokens[1].Kind == TokenKind.Name && SecondWords.Contains(line.Piece(1)));

    /// <summary>A word, a name, and then a text or a family with its brackets; nothing under it.</summary>
    private static bool IsNamed(CodeLine line) =>
        !line.HasMore
        && line.Tokens.Length > 2
        && line.BeginsWith(TokenKind.Name)
        && line.Tokens[1].Kind == TokenKind.Name
        && line.Gaps[2] > 0
        && (IsText(line, 2) || IsCall(line, 2));

    private static bool IsText(CodeLine line, int at) => line.Tokens[at].Kind == TokenKind.Text;

    private static bool IsCall(CodeLine line, int at) =>
        line.Tokens[at].Kind == TokenKind.Name
        && line.Tokens.Length > at + 1
        && line.Tokens[at + 1].Kind == TokenKind.OpenBracket
        && line.Gaps[at + 1] == 0;

    private static void Align(List<CodeLine> lines, int piece)
    {
        var inColumn = lines.Where(l => l.WidthOf(0, piece - 1) <= LongestInColumn + (8 * piece)).ToList();
        if (inColumn.Count < 2)
        {
            return;
        }

        var column = inColumn.Max(l => l.WidthOf(0, piece - 1)) + 1;
        inColumn.ForEach(l => l.Gaps[piece] = column - l.WidthOf(0, piece - 1));
    }

    private static List<List<CodeLine>> Groups(
        IReadOnlyList<CodeLine> lines,
        Func<CodeLine, CodeLine, bool> isApart
    )
    {
        var groups = new List<List<CodeLine>>();
        for (var i = 0; i < lines.Count; i++)
        {
            if (i == 0 || isApart(lines[i - 1], lines[i]))
            {
                groups.Add([]);
            }

            groups[^1].Add(lines[i]);
        }

        return groups;
    }
}
