using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// A statement whose own line can't be read any more. Uses of names that stand in the line are forgiven; what rests on the statement is
/// lowered anew for what it says, and all of that is undone: a mistake makes no program.
/// </summary>
internal sealed class BrokenEdit(BoundProtocol bound, Undo undo)
{
    /// <summary>As <see cref="RuleEdit.With"/>; the findings of reading stand in the bag.</summary>
    public BoundProtocol? With(BlockPlace place, BrokenStatement broken)
    {
        if (!bound.Bag.HasErrors)
        {
            return null;
        }

        if (place.Block is TaskBlock gone)
        {
            return new TaskMistake(bound, undo).Of(gone, broken);
        }

        return bound.Lowering.Steps.AreApart
            ? place.Block switch
            {
                OutcomeBlock outcome => Without(outcome, place.Section, broken),
                CutOffsBlock table => Without(table, broken),
                ClaimBlock or ReTestBlock or ReadinessBlock or ReportTextBlock { Name: null } => Silent(
                    place
                ),
                _ => null,
            }
            : null;
    }

    /// <summary>Nothing names it.</summary>
    private BoundProtocol Silent(BlockPlace place)
    {
        IReadOnlyList<Diagnostic> found = [.. bound.Bag.Found];
        return bound with
        {
            OfRest = [.. bound.OfRest, .. found],
            OfCare = bound.CareOf(bound.Tasks),
            OfParts =
            [
                .. bound.OfParts.Where(d =>
                    d.Source.Name != place.Block.Source.Name || !place.Holds(d.Place)
                ),
            ],
        };
    }

    /// <summary>Rules about the tasks of its section say nothing of answers that may be in the broken line.</summary>
    private BoundProtocol? Without(OutcomeBlock outcome, SectionBlock? section, BrokenStatement broken)
    {
        bound.Declared.Remove(outcome, undo);
        var others = bound
            .Lowering.Steps.RestingOn(bound.In(section?.Name.Text))
            .Where(s => s.Found.Count > 0);
        return Relowered(broken, r => r.Without(outcome, [.. others]));
    }

    /// <summary>What names its bands, in actions, claims, letters and readiness, may say other things of it.</summary>
    private BoundProtocol? Without(CutOffsBlock table, BrokenStatement broken)
    {
        bound.Declared.Remove(table, undo);
        return Relowered(broken, r => r.Without(table));
    }

    private BoundProtocol? Relowered(BrokenStatement broken, Action<Relowering> lower)
    {
        bound.Declared.Forgive(broken, undo);
        bound.Lowering.BeginAgain(undo);
        var relowering = new Relowering(bound.Lowering, bound.Protocol.Program, bound.Bag, undo);
        lower(relowering);
        return bound.With(relowering, bound.Tasks, [], keepsCare: false);
    }
}
