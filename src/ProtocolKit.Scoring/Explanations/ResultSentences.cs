using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says the headline and what the clinician decided beside it.</summary>
internal static class ResultSentences
{
    public static List<string> Of(ScoredRecord scored)
    {
        var sentences = new List<string>
        {
            scored.Headline is { } headline ? Title(headline) + "." : NoHeadline(scored),
        };
        if (Open(scored) is { Count: > 0 } open)
        {
            sentences.Add($"More severe and still undecided: {Say.List(open)}.");
        }

        if (scored.Record.Override is { } decision)
        {
            sentences.Add(Decided(scored, decision));
        }

        return sentences;
    }

    /// <summary>Actions before the headline that what is missing might still bring.</summary>
    private static List<string> Open(ScoredRecord scored) =>
        scored.Headline is null
            ? []
            :
            [
                .. scored
                    .Actions.TakeWhile(a => a.Action.Name != scored.Headline.Name)
                    .Where(a => a.Decision == Decision.Undecided)
                    .Select(a => Title(a.Action)),
            ];

    /// <summary><c>Screen again, within 12 weeks</c>.</summary>
    public static string Title(ProtocolAction action) =>
        action.Urgency is null ? action.Title : $"{action.Title}, {action.Urgency}";

    private static string NoHeadline(ScoredRecord scored) =>
        scored.Actions.Count == 0
            ? "This protocol names no actions."
            : "No action is settled: what is missing decides. See below which are undecided.";

    private static string Decided(ScoredRecord scored, Override decision)
    {
        var action = scored.Protocol.Actions.FirstOrDefault(a => a.Name == decision.Action);
        var title = action is null ? decision.Action : Title(action);
        var reason = decision.Reason.TrimEnd('.', ' ');
        return scored.Headline?.Name == decision.Action
            ? $"The clinician ({decision.Role}) confirms it. Reason: {reason}."
            : $"The clinician ({decision.Role}) decided otherwise: {title}. Reason: {reason}. The rule's own result stands above.";
    }
}
