using System.Text;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Parsing;

namespace ProtocolKit.Language.Formatting;

/// <summary>
/// Rewrites a text in the one layout: two spaces a level, tables and what follows the first words in columns, one space
/// elsewhere, <c>\n</c> line ends, at most one blank line in a row. Works on lines and pieces and knows no statement, so one
/// that is added later is laid out like the others. What can't be read is left byte for byte, with what is indented under it.
/// </summary>
public static class Formatter
{
    /// <summary>The formatted text, or the same text where it is none.</summary>
    public static string Format(SourceText source) => Of(source).Text;

    /// <summary>The formatted text with the lines that changed and those that could not be read.</summary>
    public static FormattedText Of(SourceText source)
    {
        ArgumentNullException.ThrowIfNull(source);
        if (!ModuleLoader.IsText(source))
        {
            return new FormattedText(source.Text, [], [1]);
        }

        var (tops, diagnostics) = Read(source);
        var found = diagnostics.Sorted();
        if (diagnostics.Omitted > 0 || found.Any(d => d.Code == TextMessages.IndentedStart().Descriptor.Code))
        {
            // Without a margin to count from, what stands under what is a guess; and of a text of which only the first mistakes
            // are known nobody knows which statements can be read.
            return new FormattedText(source.Text, [], [found[0].Place.Line]);
        }

        var unread = Unread.Of(tops, [.. found, .. BehindTabs(source, found)]);
        var lines = new Dictionary<int, CodeLine>();
        foreach (var top in tops)
        {
            new BlockLayout(source, lines, isKept: unread.Contains(top.First.Place().Line)).Lay(top);
        }

        Columns.AlignRuns([
            .. tops.Select(t => lines[t.First.Place().Line]).Where(l => !unread.Contains(l.Number)),
        ]);
        return new LineWriter(source, lines, unread).Write();
    }

    private static (IReadOnlyList<Line> Tops, DiagnosticBag Found) Read(SourceText source)
    {
        var diagnostics = new DiagnosticBag();
        var tops = LayoutPass.Nest(source, new Lexer(source, diagnostics).Lines(), diagnostics);
        new StatementReader(source, diagnostics).Read(tops);
        return (tops, diagnostics);
    }

    /// <summary>What else is wrong in lines with a tab, which is told only once the tab is gone.</summary>
    private static IReadOnlyList<Diagnostic> BehindTabs(SourceText source, IReadOnlyList<Diagnostic> found)
    {
        var edits = found
            .Where(d => d.Code == TextMessages.Tab().Descriptor.Code && d.Edit is not null)
            .Select(d => d.Edit!)
            .OrderByDescending(e => source.OffsetOf(e.Place))
            .ToList();
        if (edits.Count == 0)
        {
            return [];
        }

        var text = new StringBuilder(source.Text);
        foreach (var edit in edits)
        {
            var at = source.OffsetOf(edit.Place);
            text.Remove(at, edit.Place.Length).Insert(at, edit.Text);
        }

        return Read(new SourceText(source.Name, text.ToString())).Found.Sorted();
    }
}

/// <param name="ChangedLines">Numbers of lines of the original that are written differently or left out.</param>
/// <param name="UnreadLines">Where statements begin that could not be read and were left as they are.</param>
public sealed record FormattedText(
    string Text,
    IReadOnlyList<int> ChangedLines,
    IReadOnlyList<int> UnreadLines
);
