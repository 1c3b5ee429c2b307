using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// An edited rule, letter or header: its own statement is bound and lowered, and what rests on it. A mistake that is found on the
/// way is told with all others that there would be.
/// </summary>
internal sealed class RuleEdit(BoundProtocol bound, Undo undo)
{
    /// <summary>
    /// The protocol with the statement in the place of its earlier reading, whose findings stand in the bag; null where the whole
    /// text has to be compiled. Where there are errors, only its findings hold.
    /// </summary>
    public BoundProtocol? With(Statement old, Statement anew, SourceUnit unit)
    {
        var bag = bound.Bag;
        if (anew is ProtocolHeader)
        {
            return Header(unit);
        }

        var steps = bound.Lowering.Steps;
        if (
            !steps.AreApart
            || (old, anew) is (CutOffsBlock a, CutOffsBlock b) && !HaveSameForm(a, b)
            || (anew is OutcomeBlock outcome && !steps.ReadsEarlier(outcome))
            || (old, anew) is (OutcomeBlock one, OutcomeBlock other)
                && one.Name.Text != other.Name.Text
                && !OutcomeOrder.IsSame(one, other)
            || !bound.Declared.Replace(old, anew, undo)
        )
        {
            return null;
        }

        var relowering = new Relowering(bound.Lowering, bound.Protocol.Program, bag, undo);
        relowering.Lower(old, anew);
        return bag.HasErrors || KeepsOrder(old, anew)
            ? bound.With(relowering, bound.Tasks, [], keepsCare: !relowering.ReadsOthers)
            : null;
    }

    /// <summary>A header may be edited where it says nothing else of ages and forms.</summary>
    private BoundProtocol? Header(SourceUnit unit)
    {
        var bag = bound.Bag;
        if (
            HeaderBinder.Bind(unit, bag) is not { } header
            || header.Ages != bound.Header.Ages
            || header.ShortFormMinutes is null != bound.Header.ShortFormMinutes is null
        )
        {
            return null;
        }

        IReadOnlyList<Diagnostic> found = [.. bag.Found];
        return bound with
        {
            Header = header,
            Protocol = ProtocolParts.Header(bound.Protocol, header).FingerprintedBy(FingerprintWriter.Of),
            OfRest = [.. bound.OfRest, .. found],
            OfCare = bag.HasErrors ? bound.CareOf(bound.Tasks) : bound.OfCare,
        };
    }

    private bool KeepsOrder(Statement old, Statement anew) =>
        (old, anew) is not (OutcomeBlock a, OutcomeBlock b)
        || OutcomeOrder.IsSame(a, b)
        || bound.Lowering.Steps.AreInOrderOf(bound.Declared.Outcomes);

    /// <summary>Another heading has no cut-offs of its own yet.</summary>
    private bool HaveSameForm(CutOffsBlock a, CutOffsBlock b) =>
        a.ShortForm == b.ShortForm
        && (
            a.Outcome.Text == b.Outcome.Text
            || !bound.Declared.CutOffs.Exists(c =>
                c.Outcome.Text == b.Outcome.Text && c.ShortForm == b.ShortForm
            )
        );
}
