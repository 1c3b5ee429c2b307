using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// A scored record in sentences, as a clinician would say them: what follows, every value with how it came about,
/// every action with why, what was not tried, and what to keep in mind.
/// </summary>
public sealed record Explanation
{
    public required ScoredRecord Scored { get; init; }

    /// <summary>The protocol's title and edition.</summary>
    public required string Title { get; init; }

    /// <summary>Case, age, day, form and rater, in one line.</summary>
    public required string About { get; init; }

    /// <summary>The headline and, beside it, the clinician's own decision.</summary>
    public required IReadOnlyList<string> Result { get; init; }

    /// <summary>A sentence for each measure and score that applies, in the protocol's order.</summary>
    public required IReadOnlyList<Explained> Outcomes { get; init; }

    /// <summary>A sentence for each action, the most severe first.</summary>
    public required IReadOnlyList<Explained> Actions { get; init; }

    /// <summary>What was not tried and why; by key of the answer.</summary>
    public required IReadOnlyList<Explained> Untried { get; init; }

    /// <summary>The kept answers, a sentence a task and side; by key of its first answer.</summary>
    public required IReadOnlyList<Explained> Answers { get; init; }

    /// <summary>Tasks that were not given by the protocol's own rules, and what they count as.</summary>
    public IReadOnlyList<string> NotGiven { get; init; } = [];

    /// <summary>Signs that were seen, looked for, or not looked for.</summary>
    public required IReadOnlyList<string> Observations { get; init; }

    /// <summary>Events of the sitting and corrections made after it.</summary>
    public required IReadOnlyList<string> Events { get; init; }

    public required IReadOnlyList<string> Remarks { get; init; }
    public required IReadOnlyList<string> Cautions { get; init; }

    public static Explanation Of(ScoredRecord scored)
    {
        ArgumentNullException.ThrowIfNull(scored);
        var outcomes = new OutcomeSentences(scored);
        return new Explanation
        {
            Scored = scored,
            Title = $"{scored.Protocol.Title}, edition {scored.Protocol.Edition}",
            About = Heading(scored),
            Result = ResultSentences.Of(scored),
            Outcomes = outcomes.All(),
            Actions = new ActionSentences(scored).All(),
            Untried = AnswerSentences.Untried(scored),
            Answers = AnswerSentences.All(scored),
            NotGiven = GivingSentences.Of(scored),
            Observations = ObservationSentences.Of(scored),
            Events = EventSentences.Of(scored),
            Remarks = scored.Remarks,
            Cautions = CautionSentences.Of(scored),
        };
    }

    private static string Heading(ScoredRecord scored)
    {
        var record = scored.Record;
        var days = record.Seen.Select(d => d.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        var form = record.IsShortForm ? "short form" : "full form";
        var rater = record.Rater is { } who ? $", rater {RaterSentences.Of(who)}" : "";
        return $"Case {record.Case}, {RaterSentences.AgeOf(record)}, seen {Say.List(days)}, {form}{rater}";
    }
}

/// <summary>A sentence and the name of what it is about.</summary>
public sealed record Explained(string Name, string Text);
