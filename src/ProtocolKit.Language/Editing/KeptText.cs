using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Parsing;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// A text that compiled without an error, and what of it outlasts an edit. Of an edit within one line of one task, that task
/// alone is read and bound again. Its program stays where no rule can tell the new task from the old one
/// (<see cref="SameTask"/>); whatever else is different, the whole text is compiled.
/// </summary>
internal sealed class KeptText(Compilation compilation, IReadOnlyList<SourceUnit> units, BoundProtocol bound)
{
    private readonly List<Statement> _statements = [.. units[^1].Statements];
    private Compilation _compilation = compilation;
    private BoundProtocol _bound = bound;

    /// <summary>An edit failed half-way: what is known about names may no longer hold.</summary>
    public bool IsSpoilt { get; private set; }

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
            IsSpoilt
            || source.Name != Source.Name
            || source.Text.Length > SourceLines.LongestFile
            || _compilation.Omitted > 0
            || TextEdit.Between(Source.Text, source.Text) is not { } edit
        )
        {
            return null;
        }

        if (edit.SaysTheSame(Source, source))
        {
            return Take(source, _bound.Protocol);
        }

        if (
            TaskPlace.Of(_statements, edit.Line) is not { } place
            || Read(place, edit, source) is not { } task
        )
        {
            return null;
        }

        var edited = Bind(place, task, source);
        if (edited is not null)
        {
            place.Among[place.Index] = task;
        }

        return edited;
    }

    /// <summary>The edited task where it is one without any finding, and as deep as it was.</summary>
    private static TaskBlock? Read(TaskPlace place, TextEdit edit, SourceText source)
    {
        var bag = new DiagnosticBag();
        var lexer = new Lexer(source, bag);
        var raw = new List<RawLine>();
        if (place.Section is { } section)
        {
            Lines(section.Place.Line, section.Place.Line + 1);
        }

        Lines(place.Task.Place.Line, place.NextLine ?? int.MaxValue);
        var read = new StatementReader(source, bag).Read(LayoutPass.Nest(source, raw, bag));
        var inside = read is [SectionBlock { Body: var body }] ? body : read;
        return
            bag.Found.Count == 0
            && inside is [TaskBlock { Incomplete: false } task]
            && task.Name.Text == place.Task.Name.Text
            && task.Place.Line == place.Task.Place.Line
            && raw[place.Section is null ? 0 : 1].Indent == place.Task.Place.Column - 1
            ? task
            : null;

        void Lines(int from, int to) =>
            lexer.Lines(
                raw,
                edit.StartOf(source.Text, from),
                to == int.MaxValue ? source.Text.Length : edit.StartOf(source.Text, to),
                from
            );
    }

    private Compilation? Bind(TaskPlace place, TaskBlock block, SourceText source)
    {
        var index = IndexOf(block.Name.Text);
        var old = _bound.Tasks[index];
        var bag = _bound.Bag;
        bag.StartOver();
        var binder = new TaskBinder(
            _bound.Declared,
            _bound.Vocabulary,
            _bound.Sections,
            new WorkLimit(bag, _bound.Spent),
            bag
        );
        var anew = binder.Bind(block, place.Section);
        if (bag.HasErrors || anew is null)
        {
            // Binding may have marked names as not to be asked about any more.
            IsSpoilt = true;
            return null;
        }

        anew = anew with { Task = anew.Task with { Number = old.Task.Number } };
        IReadOnlyList<Diagnostic> found = [.. bag.Found];
        var before = _bound.OfTasks.GetValueOrDefault(block.Name.Text, []);
        if (!SameTask.ForRules(old, anew) || !found.Concat(before).All(d => IsWithin(d, place)))
        {
            return null;
        }

        var tasks = _bound.Tasks.ToArray();
        tasks[index] = anew;
        bag.StartOver();
        new CareChecks(tasks, _bound.Vocabulary, _bound.Declared, _bound.Names, bag).Run();
        return bag.HasErrors ? null : Take(source, tasks, old.Task, anew.Task, found, before);
    }

    private Compilation Take(
        SourceText source,
        BoundTask[] tasks,
        ProtocolTask old,
        ProtocolTask anew,
        IReadOnlyList<Diagnostic> found,
        IReadOnlyList<Diagnostic> before
    )
    {
        var rest = _bound.OfRest.Except(before, ReferenceEqualityComparer.Instance).Cast<Diagnostic>();
        var ofTasks = new Dictionary<string, IReadOnlyList<Diagnostic>>(_bound.OfTasks)
        {
            [anew.Name] = found,
        };
        var ofRest = rest.Concat(found).ToList();
        var protocol = (
            _bound.Protocol with
            {
                Tasks = [.. tasks.Select(t => t.Task)],
                Program = new ProgramTasks(old, anew).Replace(_bound.Protocol.Program),
            }
        ).FingerprintedBy(FingerprintWriter.Of);
        _bound = _bound with
        {
            Protocol = protocol,
            Tasks = tasks,
            OfTasks = ofTasks,
            OfRest = ofRest,
            OfCare = [.. _bound.Bag.Found],
        };
        return Take(source, protocol);
    }

    private Compilation Take(SourceText source, Protocol protocol)
    {
        var all = _bound.OfRest.Concat(_bound.OfCare);
        var here = all.Select(d => d.Source.Name == source.Name ? In(source, d) : d);
        return _compilation = new Compilation(protocol, DiagnosticBag.Sort([.. here]), 0)
        {
            Sources = [source, .. _compilation.Sources.Skip(1)],
        };
    }

    /// <summary>The same finding in the edited text.</summary>
    private static Diagnostic In(SourceText source, Diagnostic diagnostic) =>
        diagnostic with
        {
            Source = source,
            Related =
            [
                .. diagnostic.Related.Select(r =>
                    r.Source.Name == source.Name ? r with { Source = source } : r
                ),
            ],
        };

    /// <summary>A finding elsewhere, in a family's lines say, may be another task's as well.</summary>
    private bool IsWithin(Diagnostic diagnostic, TaskPlace place) =>
        diagnostic.Source.Name == Source.Name
        && diagnostic.Place.Line >= place.Task.Place.Line
        && (place.NextLine is not { } next || diagnostic.Place.Line < next);

    private int IndexOf(string task)
    {
        var index = 0;
        while (_bound.Tasks[index].Task.Name != task)
        {
            index++;
        }

        return index;
    }
}
