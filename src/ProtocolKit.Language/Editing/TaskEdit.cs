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
        var anew = bound.BindAgain(block, place.Section, old.Task.Number, undo);
        if (!_bag.Found.Concat(before).All(IsOwn))
        {
            return null;
        }

        if (anew is null)
        {
            return new TaskMistake(bound, undo).Of(old, null, before);
        }

        var isSame = SameTask.ForRules(old, anew) && SameTask.ForOrder(bound, old, anew);
        if (isSame && !IsBroken(block))
        {
            return _bag.HasErrors ? Broken(old, anew, before) : Sound(index, old, anew, before);
        }

        if (!_bag.HasErrors && SameTask.ForFields(old, anew))
        {
            return new TaskChange(bound, undo).To(old, anew, before);
        }

        // A task with other answers has another record; unless that is a mistake, here or in a rule, all of it is compiled.
        var mistaken = new TaskMistake(bound, undo).Of(old, anew, before);
        return _bag.HasErrors ? mistaken : null;

        // A finding elsewhere, in a family's lines say, may be another task's as well.
        bool IsOwn(Diagnostic d) => d.Source.Name == block.Source.Name && place.Holds(d.Place);
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
            OfCare = SameTask.ForCare(old, anew) ? bound.OfCare : bound.CareOf(tasks),
        };
    }

    /// <summary>The findings where the task has a mistake: those of rules stay, or there were none.</summary>
    private BoundProtocol Broken(BoundTask old, BoundTask anew, IReadOnlyList<Diagnostic> before)
    {
        IReadOnlyList<Diagnostic> found = [.. _bag.Found];
        return bound with
        {
            OfRest = [.. bound.RestWithout(before), .. found],
            OfCare = bound.CareOf([.. bound.Tasks.Select(t => t == old ? anew : t)]),
        };
    }

    private bool IsBroken(TaskBlock block) => bound.Declared.Values.IsBroken(block.Name.Text);

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
