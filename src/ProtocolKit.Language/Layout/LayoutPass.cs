using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Layout;

/// <summary>
/// Nests lines by their indentation. Guarantees: every line of the text is in the tree once, in order;
/// a line that lines up with nothing is reported and hung where it fits best.
/// </summary>
internal static class LayoutPass
{
    private const int DeepestNesting = 12;

    public static IReadOnlyList<Line> Nest(SourceText source, List<RawLine> raw, DiagnosticBag diagnostics)
    {
        var top = new List<Line>();
        var open = new List<(int Indent, Line Line)>();
        foreach (var line in raw)
        {
            var node = new Line(line.Tokens);
            var closed = Close(open, line.Indent);
            if (open.Count == 0)
            {
                if (line.Indent > 0 && top.Count == 0)
                {
                    diagnostics.Report(source, node.Place, TextMessages.IndentedStart());
                }

                top.Add(node);
            }
            else if (ContinuesText(open[^1].Line, node))
            {
                open[^1].Line.Continue(node.First);
                continue;
            }
            else
            {
                open[^1].Line.Add(node);
            }

            if (closed is { } width && width != line.Indent)
            {
                diagnostics.Report(source, node.Place, TextMessages.Indentation(width, line.Indent));
            }

            if (open.Count == DeepestNesting)
            {
                diagnostics.Report(source, node.Place, TextMessages.DeepIndentation());
                continue;
            }

            open.Add((line.Indent, node));
        }

        return top;
    }

    /// <summary>Closes deeper and equal lines; gives the shallowest indentation closed, where any was.</summary>
    private static int? Close(List<(int Indent, Line Line)> open, int indent)
    {
        int? closed = null;
        while (open.Count > 0 && open[^1].Indent >= indent)
        {
            closed = open[^1].Indent;
            open.RemoveAt(open.Count - 1);
        }

        return closed;
    }

    private static bool ContinuesText(Line parent, Line node) =>
        node.Tokens.Length == 1
        && node.First.Kind == TokenKind.Text
        && parent.Last.Kind == TokenKind.Text
        && parent.Children.Count == 0;
}
