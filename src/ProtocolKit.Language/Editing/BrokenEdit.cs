using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// A statement whose own line can't be read any more. Uses of its name are forgiven, so that rules which rest on it say nothing;
/// where they said something before, the whole text has to be compiled.
/// </summary>
internal sealed class BrokenEdit(BoundProtocol bound, Undo undo)
{
    /// <summary>As <see cref="RuleEdit.With"/>; the findings of reading stand in the bag.</summary>
    public BoundProtocol? With(BlockPlace place, BrokenStatement broken)
    {
        var steps = bound.Lowering.Steps;
        var before = place.Block switch
        {
            _ when !steps.AreApart || !bound.Bag.HasErrors => null,
            TaskBlock task when Names(broken, task.Name) => WithoutTask(task),
            OutcomeBlock outcome when Names(broken, outcome.Name) => WithoutOutcome(outcome, place.Section),
            ClaimBlock or ReTestBlock or ReadinessBlock or ReportTextBlock { Name: null } => [],
            _ => null,
        };
        return before is null
            ? null
            : bound with
            {
                OfRest = [.. bound.RestWithout(before), .. bound.Bag.Found],
                OfCare = [],
                OfParts =
                [
                    .. bound.OfParts.Where(d =>
                        d.Source.Name != place.Block.Source.Name || !place.Holds(d.Place)
                    ),
                ],
            };
    }

    private static bool Names(BrokenStatement broken, Word name) =>
        broken.Names is [var first, ..] && first == name.Text;

    /// <summary>What was found at it; null where what is asked of all tasks together may have another answer.</summary>
    private IReadOnlyList<Diagnostics.Diagnostic>? WithoutTask(TaskBlock block)
    {
        var task = bound.Tasks.First(t => t.Task.Name == block.Name.Text).Task;
        var others = bound.Tasks.Where(t => t.Task.Name != task.Name).Select(t => t.Task).ToList();
        var isSilent =
            bound.Lowering.Steps.RestingOn(bound.Beside(task)).All(s => s.Found.Count == 0)
            && (bound.Declared.Readiness.Count == 0 || task.Responses.All(r => HasAnswer(others, r)))
            && (bound.Protocol.Events.Count == 0 || others.Exists(t => t.Contact == task.Contact))
            && (
                bound.Declared.Orders.Count == 0 || others.Exists(t => t.Section?.Name == task.Section?.Name)
            );
        return isSilent ? bound.OfTasks.GetValueOrDefault(task.Name, []) : null;
    }

    private static bool HasAnswer(List<ProtocolTask> tasks, Response response) =>
        tasks.Exists(t => t.Responses.Any(r => r.Name == response.Name));

    private IReadOnlyList<Diagnostics.Diagnostic>? WithoutOutcome(OutcomeBlock block, SectionBlock? section)
    {
        var name = block.Name.Text;
        var lowering = bound.Lowering;
        var (_, own) = lowering.Steps.Outcomes.Find(o => o.Block.Name.Text == name);
        if (
            lowering
                .Steps.RestingOn(bound.In(section?.Name.Text), name)
                .Any(s => s != own && s.Found.Count > 0)
        )
        {
            return null;
        }

        bound.Declared.Remove(block, undo);
        lowering.BeginAgain(undo);
        foreach (var (task, (_, step)) in lowering.Steps.Kept.Where(k => k.Value.Measure == name))
        {
            var again = step;
            _ = lowering.KeepAgain(task, ref again, undo);
        }

        return own.Found;
    }
}
