using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Layout;

/// <summary>
/// Nests lines by their indentation. Guarantees: every line of the text is in the tree once, in order;
/// a line that lines up with nothing, or starts where its first word can't stand, is reported and hung where it fits best.
/// </summary>
internal static class LayoutPass
{
    private const int DeepestNesting = 12;

    public static IReadOnlyList<Line> Nest(SourceText source, List<RawLine> raw, DiagnosticBag diagnostics)
    {
        var top = new List<Line>();
        var open = new OpenLines();
        foreach (var line in raw)
        {
            var node = new Line(line.Tokens, line.Stray);
            var spot = open.SpotFor(node, line.Indent);
            node.IsMisplaced = spot.IsMisplaced;
            open.Close(spot.Depth);
            if (open.Last is not { } parent)
            {
                if (line.Indent > 0 && top.Count == 0)
                {
                    diagnostics.Report(source, node.Place, TextMessages.IndentedStart());
                }

                top.Add(node);
            }
            else if (ContinuesText(parent, node))
            {
                parent.Continue(node.First);
                continue;
            }
            else
            {
                parent.Add(node);
            }

            if (spot.Wrong is { } wrong && !diagnostics.HasLexicalError(source, node.Place.Line))
            {
                diagnostics.Report(source, node.Place, wrong);
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

            open.Add(node, spot);
        }

        return top;
    }

    private static bool ContinuesText(Line parent, Line node) =>
        node.Tokens.Length == 1
        && node.First.Kind == TokenKind.Text
        && parent.Last.Kind == TokenKind.Text
        && parent.Children.Count == 0;
}
