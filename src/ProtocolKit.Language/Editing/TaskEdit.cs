using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// An edited task: it alone is bound. Its program stays where no rule can tell it from its earlier reading
/// (<see cref="SameTask"/>).
/// </summary>
internal sealed class TaskEdit(BoundProtocol bound, Undo undo)
{
    private readonly DiagnosticBag _bag = bound.Bag;

    /// <summary>As <see cref="RuleEdit.With"/>.</summary>
    public BoundProtocol? With(BlockPlace place, TaskBlock block)
    {
        var index = IndexOf(block.Name.Text);
        var old = bound.Tasks[index];
        var before = bound.OfTasks.GetValueOrDefault(block.Name.Text, []);
        if (
            Bind(block, place.Section, old.Task.Number) is not { } anew
            || !_bag.Found.Concat(before).All(IsOwn)
        )
        {
            return null;
        }

        var isSame = SameTask.ForRules(old, anew);
        if (_bag.HasErrors)
        {
            return isSame && !IsBroken(block) || IsForgiven(old, anew) ? Broken(anew, before) : null;
        }

        return isSame ? Sound(index, old, anew, before) : null;

        // A finding elsewhere, in a family's lines say, may be another task's as well.
        bool IsOwn(Diagnostic d) => d.Source.Name == block.Source.Name && place.Holds(d.Place);
    }

    private BoundTask? Bind(TaskBlock block, SectionBlock? section, int number)
    {
        undo.Add(() => bound.Declared.Values.Recall(block.Name.Text));
        var work = new WorkLimit(_bag, bound.Work.Spent);
        return new TaskBinder(bound.Declared, bound.Vocabulary, bound.Sections, work, _bag).Bind(
            block,
            section,
            number
        );
    }

    private BoundProtocol Sound(int index, BoundTask old, BoundTask anew, IReadOnlyList<Diagnostic> before)
    {
        IReadOnlyList<Diagnostic> found = [.. _bag.Found];
        var tasks = bound.Tasks.ToArray();
        tasks[index] = anew;
        var protocol = bound.Protocol with
        {
            Tasks = [.. tasks.Select(t => t.Task)],
            Program = new ProgramTasks(old.Task, anew.Task).Replace(bound.Protocol.Program),
        };
        bound.Lowering.Tasks = tasks;
        undo.Add(() => bound.Lowering.Tasks = bound.Tasks);
        return bound with
        {
            Protocol = protocol.FingerprintedBy(FingerprintWriter.Of),
            Tasks = tasks,
            OfTasks = new Dictionary<string, IReadOnlyList<Diagnostic>>(bound.OfTasks)
            {
                [anew.Task.Name] = found,
            },
            OfRest = [.. bound.RestWithout(before), .. found],
            OfCare = IsSameForCare(old, anew) ? bound.OfCare : Care(tasks),
        };
    }

    /// <summary>The findings where the task has a mistake: those of rules stay, or there were none.</summary>
    private BoundProtocol Broken(BoundTask anew, IReadOnlyList<Diagnostic> before)
    {
        IReadOnlyList<Diagnostic> found = [.. _bag.Found];
        return bound with { OfRest = [.. bound.RestWithout(before), .. found], OfCare = Care([anew]) };
    }

    private List<Diagnostic> Care(IReadOnlyList<BoundTask> tasks)
    {
        var before = _bag.Found.Count;
        new CareChecks(tasks, bound.Vocabulary, bound.Declared, bound.Lowering.Names, _bag).Run();
        return [.. _bag.Found.Skip(before)];
    }

    private static bool IsSameForCare(BoundTask old, BoundTask anew) =>
        old.Block.Name.Place == anew.Block.Name.Place
        && old.Task.Materials.Select(m => m.Name).SequenceEqual(anew.Task.Materials.Select(m => m.Name));

    private bool IsBroken(TaskBlock block) => bound.Declared.Values.IsBroken(block.Name.Text);

    /// <summary>
    /// Nothing is said of what reads a task with a line that can't be read; so nothing may have been said before. What is
    /// asked of all tasks together must have the same answer.
    /// </summary>
    private bool IsForgiven(BoundTask old, BoundTask anew)
    {
        return IsBroken(anew.Block)
            && bound.Lowering.Steps.AreApart
            && bound.Lowering.Steps.RestingOn(bound.Beside(anew.Task)).All(s => s.Found.Count == 0)
            && (bound.Declared.Readiness.Count == 0 || HaveSameAnswers(old, anew))
            && (bound.Protocol.Events.Count == 0 || old.Task.Contact == anew.Task.Contact)
            && old.KeepBy?.Text == anew.KeepBy?.Text
            && IsKept(anew)
            && (bound.Header.ShortFormMinutes is not null || !anew.Task.ShortForm);
    }

    private static bool HaveSameAnswers(BoundTask a, BoundTask b) =>
        a.Task.Responses.Select(r => r.Name).SequenceEqual(b.Task.Responses.Select(r => r.Name));

    /// <summary>The answer that decides between trials is still there.</summary>
    private bool IsKept(BoundTask task) =>
        task.KeepBy is not { } by
        || bound.Lowering.Steps.Kept.ContainsKey(task.Task.Name)
        || task.Task.Responses.Any(r => r.Name == by.Text && !r.HasOptions);

    private int IndexOf(string task)
    {
        var index = 0;
        while (bound.Tasks[index].Task.Name != task)
        {
            index++;
        }

        return index;
    }
}
