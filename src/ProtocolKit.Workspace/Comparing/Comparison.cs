using ProtocolKit.Model;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>What an edit changes, in sentences, sorted by the fingerprint it moves.</summary>
/// <param name="Beside">Changes that move no fingerprint: titles, cautions, letters, claims and the like.</param>
/// <param name="Records">One for each record given, in their order.</param>
/// <param name="Reachable">What changes over all complete records a child can come to; empty where nothing can.</param>
public sealed record Comparison(
    Protocol Old,
    Protocol New,
    IReadOnlyList<string> Form,
    IReadOnlyList<string> Administration,
    IReadOnlyList<string> Interpretation,
    IReadOnlyList<string> Beside,
    IReadOnlyList<RecordComparison> Records,
    IReadOnlyList<string> Reachable
)
{
    /// <summary>Cases that have to be looked at again: their headline became more severe, or its action is gone.</summary>
    public IReadOnlyList<RecordComparison> Recall => [.. Records.Where(r => r.IsRecall)];

    public static Comparison Of(
        Protocol old,
        Protocol @new,
        IReadOnlyList<(string Name, string Text)> records
    )
    {
        ArgumentNullException.ThrowIfNull(old);
        ArgumentNullException.ThrowIfNull(@new);
        ArgumentNullException.ThrowIfNull(records);
        return new Comparison(
            old,
            @new,
            Whole(
                FormChanges.Of(old, @new),
                old.Fingerprints.Form != @new.Fingerprints.Form,
                "Something else that the child meets or that can be written down has changed."
            ),
            Whole(
                AdministrationChanges.Of(old, @new),
                old.Fingerprints.Administration != @new.Fingerprints.Administration,
                "Something else in the way it is given has changed."
            ),
            Whole(
                InterpretationChanges.Of(old, @new),
                old.Fingerprints.Interpretation != @new.Fingerprints.Interpretation,
                "Something else in the way it is read has changed."
            ),
            BesideChanges.Of(old, @new),
            [.. records.Select(r => RecordComparison.Of(r.Name, r.Text, old, @new))],
            old.Fingerprints.Interpretation == @new.Fingerprints.Interpretation
            && old.Fingerprints.Administration == @new.Fingerprints.Administration
                ? []
                : ReachableChanges.Of(old, @new)
        );
    }

    /// <summary>A fingerprint that moved is never passed over, and one that didn't has no change of meaning.</summary>
    private static IReadOnlyList<string> Whole(IReadOnlyList<string> changes, bool moved, string unnamed) =>
        !moved ? []
        : changes.Count > 0 ? changes
        : [unnamed];
}
