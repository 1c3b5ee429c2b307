using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>What a column of results says.</summary>
public enum ResultPart
{
    Case,
    AgeMonths,
    Form,
    State,
    Low,

    /// <summary>What the low end is divided by, where a value has no step.</summary>
    LowOver,
    High,
    HighOver,
    Band,
    Action,
    Headline,
    Reasons,
    Errors,
}

/// <param name="Subject">The value's or action's name; empty for the rest.</param>
public sealed record ResultColumn(ResultPart Part, string Subject)
{
    /// <summary>As it stands above the column.</summary>
    public string Name =>
        Part switch
        {
            ResultPart.Case => RecordKeys.Case,
            ResultPart.AgeMonths => RecordKeys.AgeMonths,
            ResultPart.Form => RecordKeys.Form,
            ResultPart.State => Subject + ".state",
            ResultPart.Low => Subject + ".low",
            ResultPart.LowOver => Subject + ".low-over",
            ResultPart.High => Subject + ".high",
            ResultPart.HighOver => Subject + ".high-over",
            ResultPart.Band => Subject + ".band",
            ResultPart.Action => Subject,
            ResultPart.Headline => "headline",
            ResultPart.Reasons => "reasons",
            _ => "errors",
        };
}

/// <summary>
/// The table every target gives that scores tables: SQL, R and the workbook. A table in, a table out, a row a child.
/// </summary>
public static class ResultColumns
{
    /// <summary>The columns of a table of records, in order; all may hold text.</summary>
    public static IReadOnlyList<string> OfRecords(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return
        [
            RecordKeys.Case,
            RecordKeys.AgeMonths,
            RecordKeys.Form,
            .. protocol.Program.History.Select(Of),
            .. protocol.Program.Answers.Select(a => a.Key),
            .. protocol.Program.Observations.Select(Of),
        ];
    }

    /// <summary>The column of an observation.</summary>
    public static string Of(ObservationSlot observation)
    {
        ArgumentNullException.ThrowIfNull(observation);
        return $"{RecordKeys.Observations}.{observation.Key}";
    }

    /// <summary>The column of a question of the case history.</summary>
    public static string Of(HistorySlot question)
    {
        ArgumentNullException.ThrowIfNull(question);
        return $"{RecordKeys.History}.{question.Key}";
    }

    /// <summary>What every target says where such a question isn't answered as it must be.</summary>
    internal static string WrongHistory(HistorySlot question) =>
        $"history, {question.Key}: say \"yes\" or \"no\"; it decides which tasks may be given.";

    /// <summary>The columns of its results, in order.</summary>
    public static IReadOnlyList<ResultColumn> Of(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return
        [
            new ResultColumn(ResultPart.Case, ""),
            new ResultColumn(ResultPart.AgeMonths, ""),
            new ResultColumn(ResultPart.Form, ""),
            .. protocol.Program.Outcomes.SelectMany(o => OfOutcome(o, protocol.Program)),
            .. protocol.Program.Actions.Select(a => new ResultColumn(ResultPart.Action, a.Action.Name)),
            new ResultColumn(ResultPart.Headline, ""),
            new ResultColumn(ResultPart.Reasons, ""),
            new ResultColumn(ResultPart.Errors, ""),
        ];
    }

    /// <summary>A value that has a line to divide it, or a scale without an end, is given as two whole numbers.</summary>
    public static bool IsFraction(OutcomeLines outcome)
    {
        ArgumentNullException.ThrowIfNull(outcome);
        return outcome.LowDenominatorLine >= 0
            || outcome.HighDenominatorLine >= 0
            || outcome.Scale.ToString().Contains('/', StringComparison.Ordinal);
    }

    private static IEnumerable<ResultColumn> OfOutcome(OutcomeLines outcome, ScoringProgram program)
    {
        var name = outcome.Outcome.Name;
        yield return new ResultColumn(ResultPart.State, name);
        yield return new ResultColumn(ResultPart.Low, name);
        if (IsFraction(outcome))
        {
            yield return new ResultColumn(ResultPart.LowOver, name);
        }

        yield return new ResultColumn(ResultPart.High, name);
        if (IsFraction(outcome))
        {
            yield return new ResultColumn(ResultPart.HighOver, name);
        }

        if (program.Bands.Any(b => b.Table.Outcome.Name == name))
        {
            yield return new ResultColumn(ResultPart.Band, name);
        }
    }
}
