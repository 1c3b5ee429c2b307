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
        if (place.Block is TaskBlock gone)
        {
            return bound.Bag.HasErrors ? new TaskMistake(bound, undo).Of(gone, broken) : null;
        }

        var steps = bound.Lowering.Steps;
        if (place.Block is CutOffsBlock table)
        {
            return steps.AreApart && bound.Bag.HasErrors ? WithoutTable(table, broken) : null;
        }

        var before = place.Block switch
        {
            _ when !steps.AreApart || !bound.Bag.HasErrors => null,
            OutcomeBlock outcome when Names(broken, outcome.Name) => WithoutOutcome(
                outcome,
                broken,
                place.Section
            ),
            ClaimBlock or ReTestBlock or ReadinessBlock or ReportTextBlock { Name: null } => [],
            _ => null,
        };
        if (before is null)
        {
            return null;
        }

        IReadOnlyList<Diagnostics.Diagnostic> found = [.. bound.Bag.Found];
        return bound with
        {
            OfRest = [.. bound.RestWithout(before), .. found],
            OfCare = bound.CareOf(bound.Tasks),
            OfParts =
            [
                .. bound.OfParts.Where(d =>
                    d.Source.Name != place.Block.Source.Name || !place.Holds(d.Place)
                ),
            ],
        };
    }

    private static bool Names(BrokenStatement broken, Word name) =>
        broken.Names.Contains(name.Text, StringComparer.Ordinal);

    private IReadOnlyList<Diagnostics.Diagnostic>? WithoutOutcome(
        OutcomeBlock block,
        BrokenStatement broken,
        SectionBlock? section
    )
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
        bound.Declared.Forgive(broken, undo);
        lowering.BeginAgain(undo);
        foreach (var (task, (_, step)) in lowering.Steps.Kept.Where(k => k.Value.Measure == name))
        {
            var again = step;
            _ = lowering.KeepAgain(task, ref again, undo);
        }

        return own.Found;
    }

    /// <summary>What names its bands, in actions, claims, letters and readiness, may say other things of it.</summary>
    private BoundProtocol? WithoutTable(CutOffsBlock table, BrokenStatement broken)
    {
        var lowering = bound.Lowering;
        bound.Declared.Remove(table, undo);
        bound.Declared.Forgive(broken, undo);
        lowering.BeginAgain(undo);
        var relowering = new Relowering(lowering, bound.Protocol.Program, bound.Bag, undo);
        relowering.Without(table);
        return bound.With(relowering, bound.Tasks, [], keepsCare: false);
    }
}
