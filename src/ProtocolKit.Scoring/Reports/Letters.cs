using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Fills the letter to the family: the author's, or one of ours where the protocol has none. Only what was written for caregivers
/// can get into it: the compiler refuses the rest, and this asks for nothing else.
/// </summary>
public static class Letters
{
    /// <param name="child">The child's name, given at this moment and kept nowhere; null: the text's own alternative.</param>
    public static CaregiverLetter Of(ScoredRecord scored, string? child = null)
    {
        ArgumentNullException.ThrowIfNull(scored);
        var values = ReportValues.Of(scored, child, Audience.Caregiver);
        var written = scored.Protocol.Texts.Where(t => t.Kind == ReportKind.Letter).ToList();
        return new(
            scored.Protocol,
            scored.Record.Case,
            [
                .. written.Count > 0
                    ? written.SelectMany(t => ReportTexts.Fill(t, Audience.Caregiver, values))
                    : Ours(values),
            ],
            Own(scored.Protocol, values)
        );
    }

    /// <summary>Passages for caregivers that stand in for our sentences at the foot.</summary>
    private static Dictionary<string, string> Own(
        Protocol protocol,
        IReadOnlyDictionary<string, string> values
    ) =>
        protocol
            .Texts.Where(t => t is { Kind: ReportKind.Piece, Audience: Audience.Caregiver })
            .Where(t => LetterSentences.All.Contains(t.Name))
            .ToDictionary(
                t => t.Name,
                t => string.Join(' ', ReportTexts.Fill(t, Audience.Caregiver, values)),
                StringComparer.Ordinal
            );

    /// <summary>Strengths first, then what was done and seen, what was not managed, and what is next. Wording our own.</summary>
    private static IEnumerable<string> Ours(IReadOnlyDictionary<string, string> values)
    {
        var child = values["child"] is { Length: > 0 } name ? name : "your child";
        yield return $"Dear family of {(values["child"] is { Length: > 0 } known ? known : "the child we saw")},";
        yield return $"on {values["seen"]} {child} did some short tasks with us. It is called the {values["title"]}.";
        foreach (
            var (before, key, after) in new[]
            {
                ("What went well: ", "strengths in words", "."),
                ("What we did together: ", "done in words", "."),
                ("What took more effort that day: ", "harder in words", "."),
                (
                    "What we could not do this time: ",
                    "untried in words",
                    $". That says nothing about what {child} can do."
                ),
                ("What comes next: ", "actions in words", "."),
            }
        )
        {
            if (values[key].Length > 0)
            {
                yield return before + values[key] + after;
            }
        }

        if (values["actions in words"].Length == 0)
        {
            yield return "What comes next is not settled yet; we will tell you.";
        }
    }
}
