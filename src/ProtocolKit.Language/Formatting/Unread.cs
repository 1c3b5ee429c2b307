using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Formatting;

/// <summary>The lines of statements that can't be read. They are left alone from their first to their last line.</summary>
internal sealed class Unread
{
    private readonly HashSet<int> _lines = [];
    private readonly List<int> _starts = [];

    /// <summary>The first line of each.</summary>
    public IReadOnlyList<int> Starts => _starts;

    public bool Contains(int line) => _lines.Contains(line);

    public static Unread Of(IReadOnlyList<Line> tops, IReadOnlyList<Diagnostic> found)
    {
        var unread = new Unread();
        var wrong = found
            .Where(d => d.Severity == Severity.Error && !IsMended(d))
            .Select(d => d.Place.Line)
            .Concat(OutOfLine(tops))
            .Distinct()
            .Order()
            .ToList();
        var starts = tops.Select(t => t.First.Place().Line).ToList();
        foreach (var line in wrong)
        {
            var at = starts.BinarySearch(line);
            var block = at >= 0 ? at : ~at - 1;
            unread.Add(
                block < 0 ? line : starts[block],
                block < 0 ? line : Math.Max(line, LastLine(tops[block]))
            );
        }

        return unread;
    }

    /// <summary>Statements out of line, of the first of which alone it is told, and those whose columns they are seen against.</summary>
    private static IEnumerable<int> OutOfLine(IReadOnlyList<Line> tops) =>
        tops.Zip(tops.Skip(1))
            .Where(t => t.Second.First.Place().Column > 1)
            .SelectMany(t => new[] { t.First.First.Place().Line, t.Second.First.Place().Line });

    /// <summary>A tab in an indentation whose width is plain is put right by laying the line out anew.</summary>
    private static bool IsMended(Diagnostic diagnostic) =>
        diagnostic.Code == TextMessages.Tab().Descriptor.Code && diagnostic.Edit is not null;

    private void Add(int first, int last)
    {
        if (_starts.Count == 0 || _starts[^1] != first)
        {
            _starts.Add(first);
        }

        for (var i = first; i <= last; i++)
        {
            _lines.Add(i);
        }
    }

    private static int LastLine(Line line) =>
        line.Children.Count == 0 ? line.Last.Place().Line : LastLine(line.Children[^1]);
}
