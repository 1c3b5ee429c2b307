using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Formatting;

/// <summary>Lays out one statement at the margin with all that is indented under it.</summary>
/// <param name="isKept">It can't be read: its lines keep the columns they have.</param>
internal sealed class BlockLayout(SourceText source, Dictionary<int, CodeLine> lines, bool isKept)
{
    private const int Level = 2;

    public void Lay(Line top) => Lay(top, 0);

    private CodeLine Lay(Line line, int depth)
    {
        var written = line.Tokens.GroupBy(t => t.Span.Position.Line).ToList();
        for (var i = 0; i < written.Count; i++)
        {
            var tokens = written[i].ToArray();
            var column = isKept ? IndentOf(tokens[0].Place()) : (depth + (i == 0 ? 0 : 1)) * Level;
            var hasMore = i == 0 && (written.Count > 1 || line.Children.Count > 0);
            lines[written[i].Key] = new CodeLine(source, tokens, column, isContinuation: i > 0, hasMore);
        }

        var children = line.Children.Select(c => Lay(c, depth + 1)).ToList();
        var word = line.First.ToStringValue();
        if (!isKept && !TableColumns.Align(word, children))
        {
            Columns.AlignBody(source, word, children);
            Columns.AlignRuns(children);
        }

        return lines[written[0].Key];
    }

    /// <summary>The spaces before a line that stays as it is, a tab being two: a comment above it may go with it.</summary>
    private int IndentOf(Place first)
    {
        var before = source.LineSpan(first.Line)[..(first.Column - 1)];
        return before.Length + before.Count('\t');
    }
}
