using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// A task with a mistake in it, or one that can't be read any more. Rules that read it, or a task that it may be added up with,
/// are lowered anew for what they say of it, and all of that is undone: a mistake makes no program.
/// </summary>
internal sealed class TaskMistake(BoundProtocol bound, Undo undo)
{
    private readonly DiagnosticBag _bag = bound.Bag;

    /// <summary>A task whose own line can't be read: it is gone, and the names that stand in the line are forgiven.</summary>
    public BoundProtocol? Of(TaskBlock old, BrokenStatement broken)
    {
        if (broken.Word is not ("task" or ""))
        {
            return null;
        }

        bound.Declared.Values.Remove(old.Name.Text, undo);
        bound.Declared.Forgive(broken, undo);

        return Of(
            bound.Tasks.First(t => t.Task.Name == old.Name.Text),
            null,
            bound.OfTasks.GetValueOrDefault(old.Name.Text, []),
            broken.Names
        );
    }

    /// <summary>The findings, which alone hold; null where the whole text has to be compiled.</summary>
    /// <param name="anew">As it is bound now; null where nothing is known of it any more, such as what its family holds.</param>
    /// <param name="before">What was found the last time while it was bound.</param>
    /// <param name="names">Others that rules may now be silent about.</param>
    public BoundProtocol? Of(
        BoundTask old,
        BoundTask? anew,
        IReadOnlyList<Diagnostic> before,
        IReadOnlyList<string>? names = null
    )
    {
        var lowering = bound.Lowering;
        if (!lowering.Steps.AreApart || !IsAlone(old, anew))
        {
            return null;
        }

        BoundTask[] tasks =
        [
            .. bound.Tasks.Where(t => anew is not null || t != old).Select(t => t == old ? anew! : t),
        ];
        var resting = lowering.Steps.RestingOn([.. bound.Beside(old.Task), .. names ?? []]);
        lowering.BeginAgain(undo);
        lowering.Mistake(old, anew, tasks, undo);
        var relowering = new Relowering(lowering, bound.Protocol.Program, _bag, undo);
        relowering.Lower(null, resting);
        return bound.With(relowering, tasks, before, keepsCare: false);
    }

    /// <summary>What is asked of all tasks together, beside rules, has the same answer.</summary>
    private bool IsAlone(BoundTask old, BoundTask? anew) =>
        !old.Task.HelpHasCost()
        && anew?.Task.HelpHasCost() != true
        && bound.Declared.Orders.Count == 0
        && (bound.Protocol.Events.Count == 0 || old.Task.Contact == anew?.Task.Contact)
        && (bound.Header.ShortFormMinutes is not null || anew?.Task.ShortForm != true);
}
