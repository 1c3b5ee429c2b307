using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>One record under the old and the new edition.</summary>
/// <param name="Name">The file.</param>
/// <param name="Case">Empty where the record couldn't be read.</param>
/// <param name="Problem">Why it can't be scored by one of the two; null where it can by both.</param>
/// <param name="OldHeadline">The headline's title; null where none is settled.</param>
/// <param name="Changes">Bands and actions that change, in sentences.</param>
/// <param name="IsRecall">The headline became more severe, or its action is gone: someone has to look at the case again.</param>
public sealed record RecordComparison(
    string Name,
    string Case,
    string? Problem,
    string? OldHeadline,
    string? NewHeadline,
    IReadOnlyList<string> Changes,
    bool IsRecall
)
{
    public static RecordComparison Of(string name, string text, Protocol old, Protocol @new)
    {
        var before = RecordReader.Read(text, name, old);
        if (before.Record is null)
        {
            return Unread(name, $"The old edition can't score it: {before.Problems[0].Message}");
        }

        // What the record was taken with is named here, so that it is this form and no other.
        var after = RecordReader.Read(
            text,
            name,
            @new,
            new RecordOptions
            {
                AcceptForms = [old.Fingerprints.Form],
                AcceptAdministrations = [old.Fingerprints.Administration],
                AcceptEditions = [old.Edition],
            }
        );
        return after.Record is null
            ? Unread(name, $"The new edition can't score it: {after.Problems[0].Message}")
            : Compare(name, Scorer.Score(old, before.Record), Scorer.Score(@new, after.Record));
    }

    private static RecordComparison Unread(string name, string why) =>
        new(name, "", why, null, null, [], false);

    private static RecordComparison Compare(string name, ScoredRecord old, ScoredRecord @new)
    {
        var changes = Bands(old, @new).Concat(Actions(old, @new)).ToList();
        return new RecordComparison(
            name,
            @new.Record.Case,
            null,
            old.Headline?.Title,
            @new.Headline?.Title,
            changes,
            IsMoreSevere(old.Headline?.Name, @new)
        );
    }

    private static IEnumerable<string> Bands(ScoredRecord old, ScoredRecord @new)
    {
        foreach (
            var (before, after) in Matching.Pairs(
                old.Bands.Where(b => Applies(b, old)),
                @new.Bands.Where(b => Applies(b, @new)),
                b => b.Table.Outcome.Name
            )
        )
        {
            var (was, now) = (Said(before), Said(after));
            if (was != now)
            {
                yield return $"{(after ?? before)!.Table.Outcome.Title}: {now} instead of {was}.";
            }
        }
    }

    private static IEnumerable<string> Actions(ScoredRecord old, ScoredRecord @new)
    {
        foreach (var (before, after) in Matching.Pairs(old.Actions, @new.Actions, a => a.Action.Name))
        {
            var (was, now) = (Said(before?.Decision), Said(after?.Decision));
            if (was != now)
            {
                yield return $"{(after ?? before)!.Action.Title}: {now}, and {was} before.";
            }
        }
    }

    private static bool Applies(BandResult band, ScoredRecord scored) =>
        band.Table.ShortForm == scored.Record.IsShortForm;

    private static string Said(BandResult? band) => band?.Word ?? "no cut-offs";

    private static string Said(Decision? decision) =>
        decision switch
        {
            Decision.Applies => "applies",
            Decision.AppliesNot => "does not apply",
            Decision.Undecided => "undecided",
            _ => "not there",
        };

    /// <summary>By the order of the new edition. Nothing settled counts as the mildest: what becomes settled is looked at.</summary>
    private static bool IsMoreSevere(string? old, ScoredRecord @new)
    {
        if (@new.Headline is not { } now)
        {
            return false;
        }

        var names = @new.Protocol.Actions.Select(a => a.Name).ToList();
        var (before, after) = (old is null ? names.Count : names.IndexOf(old), names.IndexOf(now.Name));
        return before < 0 || after < before;
    }
}
