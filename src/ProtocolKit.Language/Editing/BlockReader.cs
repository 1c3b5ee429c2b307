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
        if (Nested(numbered) is not { } lines)
        {
            return null;
        }

        var read = new StatementReader(numbered, _diagnostics).Read([lines]);
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

    /// <summary>
    /// Its line, alone under its section's where it has one; null where it doesn't stand between those around it as before.
    /// </summary>
    private Line? Nested(SourceText numbered)
    {
        var raw = new List<RawLine>();
        var around = new Lexer(_source, new DiagnosticBag());
        foreach (var (from, to) in Before())
        {
            Cut(around, raw, from, to - from, _first - _place.Line + from);
        }

        var before = raw.Count;
        Cut(new Lexer(numbered, _diagnostics), raw, _place.Line, _count, _first);
        var isRead = raw.Count > before && raw[before].Tokens[0].Place().Line == _first;
        var next = _first + _count;
        var ends = _place is { NextLine: not null, Block: not SectionBlock };
        if (ends)
        {
            Cut(around, raw, _place.Line + _count, 1, next);
        }

        // Under a section's own line stand others, which are not read.
        isRead =
            isRead
            && (_place.Block is not SectionBlock || raw[before].Indent == _place.Block.Place.Column - 1);
        var tops = LayoutPass.Nest(numbered, raw, _diagnostics);
        if (!isRead || (ends && _diagnostics.HasErrorOn(numbered, next)))
        {
            return null;
        }

        if (_place.Section is null)
        {
            return OwnOf(tops, ends, next);
        }

        // The last of a section is followed by what stands beside the section.
        var isLast = _place.Index == _place.Among.Count - 1;
        var own = OwnOf(tops[0].Children, ends && !isLast, next);
        if (
            own is null
            || tops.Count != (ends && isLast ? 2 : 1)
            || (ends && isLast && tops[1].Place.Line != next)
        )
        {
            return null;
        }

        var section = new Line(tops[0].Tokens);
        section.Add(own);
        return section;
    }

    /// <summary>The lines before it between which it finds its place: what it stands under, and the statement before it.</summary>
    private IEnumerable<(int From, int To)> Before()
    {
        var before = _place.Index > 0 ? _place.Among[_place.Index - 1] : null;
        if (_place.Section is { } section)
        {
            yield return Head(section);
        }
        else if (before is SectionBlock { Body: [.., var last] } whole)
        {
            yield return Head(whole);
            before = last;
        }

        if (before is not null)
        {
            yield return (_before.Now(before.Place.Line), _place.Line);
        }
    }

    private (int From, int To) Head(SectionBlock section)
    {
        var line = _before.Now(section.Place.Line);
        return (line, line + 1);
    }

    /// <summary>The one line of the statement, with those under it, after the one before and before the next.</summary>
    private Line? OwnOf(IReadOnlyList<Line> among, bool ends, int next)
    {
        var at = _place.Index > 0 ? 1 : 0;
        return
            among.Count == at + (ends ? 2 : 1)
            && among[at].Place.Line == _first
            && (!ends || (among[^1].Place.Line == next && !among[^1].IsMisplaced))
            ? among[at]
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
