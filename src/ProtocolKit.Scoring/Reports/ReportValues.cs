using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>The values of all placeholders of letters and notes for one sitting; what it doesn't hold is left empty.</summary>
public static class ReportValues
{
    /// <param name="child">The child's name, given at this moment; null: the text's alternative stands in.</param>
    /// <param name="reader">Scores are never among the values of a family.</param>
    public static IReadOnlyDictionary<string, string> Of(ScoredRecord scored, string? child, Audience reader)
    {
        ArgumentNullException.ThrowIfNull(scored);
        var plain = new PlainWords(scored);
        var values = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["child"] = child ?? "",
            ["case"] = scored.Record.Case,
            ["seen"] =
                reader == Audience.Caregiver ? plain.Days() : Say.List(scored.Record.Seen.Select(Say.Day)),
            ["age"] = RaterSentences.AgeOf(scored.Record),
            ["examiner"] = scored.Record.Rater?.Code ?? "",
            ["title"] = scored.Protocol.Title,
            ["edition"] = scored.Protocol.Edition,
            ["done in words"] = plain.Done(),
            ["strengths in words"] = plain.Strengths(),
            ["harder in words"] = plain.Harder(),
            ["untried in words"] = plain.Untried(),
            ["actions in words"] = plain.Actions(),
        };
        if (reader != Audience.Caregiver)
        {
            values["scores in words"] = NoteScores.InWords(scored);
        }

        return values;
    }
}
