using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// A task that looks different to rules: under another name, otherwise the same, or with other limits, steps or options of its
/// answers. Its fields and lines are changed in their places; rules that read it, by its name or with others of its section, are
/// lowered anew, and miss it where they name it as it was.
/// </summary>
internal sealed class TaskChange(BoundProtocol bound, Undo undo)
{
    private readonly DiagnosticBag _bag = bound.Bag;

    /// <summary>As <see cref="RuleEdit.With"/>.</summary>
    public BoundProtocol? With(BlockPlace place, TaskBlock block)
    {
        var name = ((TaskBlock)place.Block).Name.Text;
        var old = bound.Tasks.First(t => t.Task.Name == name);
        var before = bound.OfTasks.GetValueOrDefault(name, []);
        if (bound.Declared.Values.Find(block.Name.Text) is { } other)
        {
            return bound.Declared.IsBefore(other, name) ? Taken(old, block, before) : null;
        }

        return
            bound.BindAgain(block, place.Section, old.Task.Number, undo) is not { } anew
            || _bag.HasErrors
            || !_bag.Found.Concat(before).All(d => d.Source.Name == block.Source.Name && place.Holds(d.Place))
            ? null
            : To(old, anew, before);
    }

    /// <summary>The second of a name is left out, and missed under its own.</summary>
    private BoundProtocol? Taken(BoundTask old, TaskBlock anew, IReadOnlyList<Diagnostic> before)
    {
        bound.Declared.Values.IsTaken(anew.Name, anew.Source);
        bound.Declared.Values.Remove(old.Task.Name, undo);
        return new TaskMistake(bound, undo).Of(old, null, before);
    }

    /// <summary>The same for a task that is bound, with what was found the last time.</summary>
    public BoundProtocol? To(BoundTask old, BoundTask anew, IReadOnlyList<Diagnostic> before)
    {
        var name = old.Task.Name;
        var isRenamed = name != anew.Task.Name;
        if (
            !bound.Lowering.Steps.AreApart
            || bound.Declared.Orders.Exists(o => o.Lines.Count > 0)
            || !SameTask.ForOrder(bound, old, anew)
            || !(
                isRenamed
                    ? SameTask.ForRules(old with { Task = old.Task with { Name = anew.Task.Name } }, anew)
                    : SameTask.ForFields(old, anew)
            )
        )
        {
            return null;
        }

        IReadOnlyList<Diagnostic> found = [.. _bag.Found];
        return Lower(old, anew, before) is { } lowered
            ? lowered with
            {
                OfTasks = new Dictionary<string, IReadOnlyList<Diagnostic>>(
                    bound.OfTasks.Where(t => t.Key != name)
                )
                {
                    [anew.Task.Name] = found,
                },
            }
            : null;
    }

    private BoundProtocol? Lower(BoundTask old, BoundTask anew, IReadOnlyList<Diagnostic> before)
    {
        var lowering = bound.Lowering;
        var tasks = bound.Tasks.Select(t => ReferenceEquals(t, old) ? anew : t).ToArray();
        var resting = Resting(old);
        lowering.BeginAgain(undo);
        var isRenamed = old.Task.Name != anew.Task.Name;
        if (
            isRenamed
                ? !bound.Declared.Rename(old.Task.Name, anew.Block, undo)
                    || !lowering.Rename(old, anew, tasks, undo)
                : !lowering.Reshape(old, anew, tasks, undo)
        )
        {
            return null;
        }

        var program = new ProgramTasks(old.Task, anew.Task).Replace(bound.Protocol.Program);
        var relowering = new Relowering(lowering, program, _bag, undo);
        relowering.Lower(isRenamed ? anew.Task.Name : null, resting);
        if (isRenamed)
        {
            lowering.MoveReadings(old.Task, anew.Task, undo);
        }

        // Who names the task by its old name misses it now, so that without a mistake all is read that was read before; what was
        // found of the task itself names it.
        var keepsCare = isRenamed
            ? !bound.OfCare.Any(d => d.Place.Line == old.Block.Name.Place.Line)
            : SameTask.ForCare(old, anew) && !relowering.ReadsOthers;
        return bound.With(relowering, tasks, before, keepsCare);
    }

    /// <summary>Steps that read the task, and those that found something about tasks beside it: they may name it too.</summary>
    private IReadOnlyList<LoweringStep> Resting(BoundTask old)
    {
        var steps = bound.Lowering.Steps;
        var resting = steps.RestingOn([old.Task.Name]);
        return steps.All.Any(s => s.Found.Count > 0)
            ? [.. resting, .. steps.RestingOn(bound.Beside(old.Task)).Where(s => s.Found.Count > 0)]
            : resting;
    }
}
