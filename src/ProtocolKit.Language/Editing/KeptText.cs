using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// A text that compiled without an error, and what of it outlasts an edit. Of an edit within one statement, that statement alone
/// is read again, and bound and lowered with what rests on it; where more depends on it, the whole text is compiled. Statements
/// keep the line numbers under which they were read; where they stand now is put in last.
/// </summary>
internal sealed class KeptText(Compilation compilation, IReadOnlyList<SourceUnit> units, BoundProtocol bound)
{
    private readonly List<Statement> _statements = [.. units[^1].Statements];
    private Compilation _compilation = compilation;
    private BoundProtocol _bound = bound;
    private LineMap _lines = LineMap.Of(compilation.Sources[0].Text);

    private SourceText Source => _compilation.Sources[0];

    public bool HasModulesOf(IModuleSource modules)
    {
        foreach (var unit in units)
        {
            foreach (var use in unit.Statements.OfType<UseLine>())
            {
                var now = modules.Find(use.Module.Text);
                var then = _compilation.Sources.FirstOrDefault(s => s.Name == now?.Name);
                if (now is null || then is null || now.Text != then.Text)
                {
                    return false;
                }
            }
        }

        return true;
    }

    /// <summary>The compilation of the edited text, or null where all of it has to be compiled.</summary>
    public Compilation? Edited(SourceText source)
    {
        if (
            source.Name != Source.Name
            || source.Text.Length > SourceLines.LongestFile
            || _compilation.Omitted > 0
        )
        {
            return null;
        }

        // A mistake was taken back.
        if (source.Text == Source.Text)
        {
            return Take(source, _bound);
        }

        if (TextEdit.Between(Source.Text, source.Text) is not { } edit)
        {
            return null;
        }

        var place = BlockPlace.Of(_statements, edit.Line, edit.Line + edit.Removed, _lines);
        if (edit.SameLines(Source, source) is not { } same)
        {
            return place is null ? null : Put(place, edit, source);
        }

        if (edit is not { Added: 0, Removed: 0 })
        {
            // The parts of a long text belong together only where they stand in lines one after the other.
            if (place?.Block is ReportTextBlock)
            {
                return null;
            }

            _lines = _lines.After(edit, same);
        }

        return Take(source, _bound);
    }

    private Compilation? Put(BlockPlace place, TextEdit edit, SourceText source)
    {
        _bound.Bag.StartOver();
        var reader = new BlockReader(place, edit, source, _lines, _bound.Bag);
        if (reader.Read() is not { } anew)
        {
            return null;
        }

        var undo = new Undo();
        undo.Add(() => place.Among[place.Index] = place.Block);
        place.Among[place.Index] = anew;
        var edited = anew switch
        {
            TaskBlock task when task.Name.Text != ((TaskBlock)place.Block).Name.Text => new TaskChange(
                _bound,
                undo
            ).With(place, task),
            SectionBlock section => new SectionEdit(_bound, undo).With(place, section),
            TaskBlock task => new TaskEdit(_bound, undo).With(place, task),
            BrokenStatement broken => new BrokenEdit(_bound, undo).With(place, broken),
            _ => new RuleEdit(_bound, undo).With(place.Block, anew, new SourceUnit(Source, _statements)),
        };
        edited = edited is not null && MayReorder(edited) ? null : edited;
        var hasErrors = _bound.Bag.HasErrors;
        if (edited is null || hasErrors || _bound.Bag.IsFull)
        {
            undo.All();
        }

        if (edited is null || _bound.Bag.IsFull)
        {
            return null;
        }

        if (hasErrors)
        {
            return Compiled(source, edited, null, reader.Lines);
        }

        _lines = reader.Lines;
        return Take(source, edited);
    }

    /// <summary>Files are told in the order in which a finding was first met in them, which only a whole compilation knows.</summary>
    private bool MayReorder(BoundProtocol edited)
    {
        var (all, before) = (FoundIn(edited).ToList(), FoundIn(_bound).Count());
        return (_bound.Bag.Found.Count > 0 || all.Count != before)
            && all.Select(d => d.Source.Name).Distinct(StringComparer.Ordinal).Count() > 1;
    }

    private static IEnumerable<Diagnostic> FoundIn(BoundProtocol bound) =>
        bound.OfRest.Concat(bound.OfCare).Concat(bound.OfParts);

    private Compilation Take(SourceText source, BoundProtocol edited)
    {
        _bound = edited;
        var protocol = _lines.IsMoved
            ? new MovedProtocol(source.Name, _lines).Of(edited.Protocol).FingerprintedBy(FingerprintWriter.Of)
            : edited.Protocol;
        return _compilation = Compiled(source, edited, protocol, _lines);
    }

    private Compilation Compiled(SourceText source, BoundProtocol edited, Protocol? protocol, LineMap lines)
    {
        return new Compilation(
            protocol,
            DiagnosticBag.Sort([.. FoundIn(edited).Select(d => In(source, d, lines))]),
            0
        )
        {
            Sources = [source, .. _compilation.Sources.Skip(1)],
        };
    }

    /// <summary>The same finding in the edited text.</summary>
    private static Diagnostic In(SourceText source, Diagnostic diagnostic, LineMap lines)
    {
        var related = diagnostic.Related.Select(r =>
            r.Source.Name == source.Name ? r with { Source = source, Place = At(r.Place) } : r
        );
        var isHere = diagnostic.Source.Name == source.Name;
        var message = diagnostic.Message;
        return diagnostic with
        {
            Source = isHere ? source : diagnostic.Source,
            Place = isHere ? At(diagnostic.Place) : diagnostic.Place,
            Message = isHere && message.EditAt is { } at ? message with { EditAt = At(at) } : message,
            Related = [.. related],
        };

        Place At(Place place) => place with { Line = lines.Now(place.Line) };
    }
}
