using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Parsing;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// Reads an edited statement: under the numbers it had where it has as many lines as when it was read, else under new ones.
/// </summary>
/// <param name="before">Where lines stood before the edit.</param>
internal sealed class BlockReader
{
    private readonly BlockPlace _place;
    private readonly TextEdit _edit;
    private readonly SourceText _source;
    private readonly LineMap _before;
    private readonly DiagnosticBag _diagnostics;
    private readonly int _first;
    private readonly int _count;

    public BlockReader(
        BlockPlace place,
        TextEdit edit,
        SourceText source,
        LineMap before,
        DiagnosticBag diagnostics
    )
    {
        (_place, _edit, _source, _before, _diagnostics) = (place, edit, source, before, diagnostics);
        var more = edit.Added - edit.Removed;
        _count = (place.NextLine + more ?? 1 + source.Text.AsSpan().Count('\n') + 1) - place.Line;
        var isAsRead = more == 0 && before.IsWhole(place.Block.Place.Line, _count);
        _first = isAsRead ? place.Block.Place.Line : before.Fresh;
        Lines = isAsRead ? before : before.After(edit, place.Line, _count);
    }

    /// <summary>Where lines stand after the edit.</summary>
    public LineMap Lines { get; }

    /// <summary>The statement, where it is one of the same kind in the same place, or one whose first line can't be read.</summary>
    public Statement? Read()
    {
        var numbered = Lines.IsMoved ? _source.Numbered(Lines.All) : _source;
        var lexer = new Lexer(numbered, _diagnostics);
        var raw = new List<RawLine>();
        if (_place.Section is { } section)
        {
            Cut(lexer, raw, _before.Now(section.Place.Line), 1, section.Place.Line);
        }

        Cut(lexer, raw, _place.Line, _count, _first);
        var first = _place.Section is null ? 0 : 1;
        // After a line as far out as the section, what follows would stand under that.
        if (
            raw.Count <= first
            || raw[first].Indent != _place.Block.Place.Column - 1
            || (first > 0 && raw.Skip(1).Any(l => l.Indent <= raw[0].Indent))
        )
        {
            return null;
        }

        var lines = LayoutPass.Nest(numbered, raw, _diagnostics);
        var read = new StatementReader(numbered, _diagnostics).Read(lines);
        var inside =
            _place.Section is null ? read
            : read is [SectionBlock { Body: var body }] ? body
            : [];
        return
            inside is [var anew]
            && anew.Place.Line == _first
            && (anew is BrokenStatement || anew.GetType() == _place.Block.GetType())
            ? anew
            : null;
    }

    private void Cut(Lexer lexer, List<RawLine> raw, int line, int count, int number) =>
        lexer.Lines(
            raw,
            _edit.StartOf(_source.Text, line),
            _edit.StartOf(_source.Text, line + count),
            number
        );
}
