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
        var open = new List<Open>();
        foreach (var line in raw)
        {
            var node = new Line(line.Tokens, line.Stray);
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

            var beside = closed ?? line.Indent;
            if (beside != line.Indent && !diagnostics.HasLexicalError(source, node.Place.Line))
            {
                diagnostics.Report(source, node.Place, TextMessages.Indentation(beside, line.Indent));
            }

            if (open.Count == DeepestNesting)
            {
                if (!top[^1].IsTooDeep)
                {
                    diagnostics.Report(source, node.Place, TextMessages.DeepIndentation());
                }

                top[^1].IsTooDeep = true;
                continue;
            }

            open.Add(new Open(line.Indent, beside, node));
        }

        return top;
    }

    /// <summary>Closes deeper and equal lines; gives the shallowest indentation closed, where any was.</summary>
    private static int? Close(List<Open> open, int indent)
    {
        int? closed = null;
        while (open.Count > 0 && (open[^1].Indent >= indent || open[^1].Beside == indent))
        {
            closed = open[^1].Beside == indent ? indent : open[^1].Indent;
            open.RemoveAt(open.Count - 1);
        }

        return closed;
    }

    /// <param name="Beside">The indentation of the lines it stands beside; its own unless it is out of line.</param>
    private readonly record struct Open(int Indent, int Beside, Line Line);

    private static bool ContinuesText(Line parent, Line node) =>
        node.Tokens.Length == 1
        && node.First.Kind == TokenKind.Text
        && parent.Last.Kind == TokenKind.Text
        && parent.Children.Count == 0;
}
