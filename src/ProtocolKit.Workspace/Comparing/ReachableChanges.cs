using ProtocolKit.Model;
using ProtocolKit.Proof.Editions;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>What an edit changes over all complete records a child can come to, in sentences, each with the smallest example.</summary>
internal static class ReachableChanges
{
    public static IReadOnlyList<string> Of(Protocol old, Protocol @new)
    {
        if (EditionChanges.Of(old, @new) is not { } changes)
        {
            return
            [
                "The two don't ask for the same answers, so no record can be laid beside both. Give records with --records to compare results.",
            ];
        }

        var sentences = changes.Changes.SelectMany(Sentences).ToList();
        sentences.AddRange(changes.NotWorkedOut.Select(o => $"Not worked out: {o}"));
        return sentences.Count > 0
            ? sentences
            : ["No complete record changes its band or its headline. Untried answers were not looked at."];
    }

    private static IEnumerable<string> Sentences(EditionChange change)
    {
        var form = change.ShortForm ? ", short form" : "";
        var recall =
            change.IsRecall ? " To be looked at again: it is more severe now, or its action is gone."
            : change.IsSofter ? " It is milder now."
            : "";
        yield return $"{change.What ?? "Headline"} at {change.Ages}{form}: {change.New} instead of {change.Old} in "
            + $"{LargeNumber.Words(change.Records)} of {LargeNumber.Words(change.All)} complete records.{recall} The nearest to a flawless sheet:";
        foreach (var word in change.Example.Words)
        {
            yield return $"  {word}";
        }
    }
}
