using System.Text;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Formatting;

/// <summary>
/// Rewrites a text in the one layout: two spaces a level, no tabs, no space at line ends, <c>\n</c> line ends, at most one
/// blank line in a row. What stands inside a line, tables and comments included, is kept as written. A text whose
/// characters or indentation are in doubt is left as it is.
/// </summary>
public static class Formatter
{
    private const int Level = 2;

    /// <summary>The formatted text, or the same text where it can't be formatted without guessing.</summary>
    public static string Format(SourceText source)
    {
        ArgumentNullException.ThrowIfNull(source);
        var diagnostics = new DiagnosticBag();
        var raw = new Lexer(source, diagnostics).Lines();
        var nested = LayoutPass.Nest(source, raw, diagnostics);
        if (diagnostics.Sorted().Any(d => d.Code != TextMessages.Tab().Descriptor.Code))
        {
            return source.Text;
        }

        var columns = new Dictionary<int, int>();
        foreach (var line in nested)
        {
            Place(line, 0, columns);
        }

        return Write(source, columns);
    }

    /// <summary>The column at which each line that holds something begins, by line number.</summary>
    private static void Place(Line line, int depth, Dictionary<int, int> columns)
    {
        var start = line.First.Span.Position;
        columns[start.Line] = depth * Level;
        foreach (var token in line.Tokens)
        {
            // A text that goes on stands one level under its statement.
            columns.TryAdd(token.Span.Position.Line, (depth + 1) * Level);
        }

        foreach (var child in line.Children)
        {
            Place(child, depth + 1, columns);
        }
    }

    private static string Write(SourceText source, Dictionary<int, int> columns)
    {
        var lines = source.Text.Split('\n');
        var text = new StringBuilder(source.Text.Length);
        var blank = true;
        for (var i = 0; i < lines.Length; i++)
        {
            var content = lines[i].Trim(' ', '\t', '\r');
            if (content.Length == 0)
            {
                text.Append(blank ? "" : "\n");
                blank = true;
                continue;
            }

            var column = columns.TryGetValue(i + 1, out var own) ? own : CommentColumn(lines, i, columns);
            text.Append(' ', column).Append(content).Append('\n');
            blank = false;
        }

        return blank && text.Length > 0 ? text.ToString().TrimEnd('\n') + "\n" : text.ToString();
    }

    /// <summary>A comment stands with the line it precedes.</summary>
    private static int CommentColumn(string[] lines, int from, Dictionary<int, int> columns)
    {
        for (var i = from + 1; i < lines.Length; i++)
        {
            if (columns.TryGetValue(i + 1, out var column))
            {
                return column;
            }
        }

        return 0;
    }
}
