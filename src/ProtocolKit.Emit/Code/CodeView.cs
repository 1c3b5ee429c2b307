using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Code;

/// <summary>
/// What a template of code sees. Everything printable is already written for the language: names as names,
/// texts as quoted strings (comments where the property says so), numbers as literals.
/// </summary>
internal sealed record CodeView
{
    /// <summary>Comments are left out.</summary>
    public required bool IsCompact { get; init; }
    public required Raw TypeName { get; init; }
    public required Raw FileName { get; init; }
    public required IReadOnlyList<Raw> TitleComment { get; init; }
    public required IReadOnlyList<Raw> IdentityComment { get; init; }
    public required IReadOnlyList<Raw> CautionComment { get; init; }
    public required Raw Name { get; init; }
    public required Raw Title { get; init; }
    public required Raw Edition { get; init; }
    public required Raw Form { get; init; }
    public required Raw Administration { get; init; }
    public required Raw Interpretation { get; init; }
    public required IReadOnlyList<Raw> Cautions { get; init; }
    public required bool HasShortForm { get; init; }
    public required Raw FieldCount { get; init; }
    public required Raw AgeField { get; init; }
    public required Raw AgeLow { get; init; }
    public required Raw AgeHigh { get; init; }
    public required Raw FormField { get; init; }
    public required IReadOnlyList<FieldView> Fields { get; init; }
    public required IReadOnlyList<LineView> Lines { get; init; }
    public required IReadOnlyList<CodeWord> States { get; init; }
    public required IReadOnlyList<CodeWord> Codes { get; init; }
    public required IReadOnlyList<AnswerView> Answers { get; init; }
    public required IReadOnlyList<CodeWord> Observations { get; init; }

    /// <summary>Questions of the case history that open or close tasks, each with its field.</summary>
    public required IReadOnlyList<HistoryView> History { get; init; }

    /// <summary>Some tasks may not be given, so that what is missing is told only once the lines say which.</summary>
    public required bool HasGiving { get; init; }

    /// <summary>Keys of answers that say which help was given: left out, there was none.</summary>
    public required IReadOnlyList<Raw> HelpKeys { get; init; }

    /// <summary>The name of no help, quoted.</summary>
    public required Raw NoHelp { get; init; }
    public required IReadOnlyList<CodeWord> Kept { get; init; }
    public required IReadOnlyList<OutcomeView> Outcomes { get; init; }
    public required IReadOnlyList<BandView> Bands { get; init; }
    public required IReadOnlyList<ActionView> Actions { get; init; }
    public required Raw HeadlineLine { get; init; }
    public required bool HasHeadline { get; init; }
}

/// <param name="Comment">Bounds, step and unit.</param>
internal sealed record FieldView(Raw Name, Raw Index, Raw Comment);

/// <param name="Comment">Proved limits and what the line means.</param>
internal sealed record LineView(Raw Name, Raw Code, bool IsCondition, Raw Comment);

/// <summary>A text with the number it stands for.</summary>
internal sealed record CodeWord(Raw Text, Raw Number);

/// <param name="IsNeeded">A record must answer it.</param>
internal sealed record HistoryView(Raw Text, Raw Number, Raw IsNeeded)
{
    /// <summary>What is said where it isn't answered as it must be, quoted.</summary>
    public required Raw Wrong { get; init; }
}

/// <param name="Given">The line that says whether its task is given, or -1 where it always is.</param>
/// <param name="After">The index of the answer that decides whether this trial is given, or -1.</param>
/// <param name="Below">The trial is given where that answer's field is below this.</param>
/// <param name="From">The lowest value, in the answer's unit.</param>
/// <param name="StepAbove">The step is this over <paramref name="StepBelow"/>.</param>
/// <param name="Levels">Points of a rating's levels, lowest first; empty for other answers.</param>
/// <param name="Options">Names of options; empty for other answers.</param>
internal sealed record AnswerView(
    Raw Key,
    Raw ValueField,
    Raw StateField,
    Raw Given,
    Raw Low,
    Raw OnShortForm,
    Raw After,
    Raw Below,
    Raw From,
    Raw To,
    Raw StepAbove,
    Raw StepBelow,
    IReadOnlyList<Raw> Levels,
    IReadOnlyList<Raw> Options
)
{
    /// <summary>A few quoted words on what it may be.</summary>
    public required Raw Expected { get; init; }

    /// <summary>How a number is read from text: its form as a quoted regular expression.</summary>
    public required Raw Pattern { get; init; }

    /// <summary>By how many digits the point is shifted for the numbers that follow.</summary>
    public required Raw Decimals { get; init; }
    public required Raw ShiftedFrom { get; init; }
    public required Raw ShiftedTo { get; init; }
    public required Raw ShiftedStep { get; init; }
    public required IReadOnlyList<Raw> ShiftedLevels { get; init; }

    public bool IsNumber => Levels.Count == 0 && Options.Count == 0;
}

/// <param name="ScaleAbove">A value is numerator / denominator × this / <paramref name="ScaleBelow"/>.</param>
/// <param name="LowBy">The line with the denominator, or -1.</param>
/// <param name="Step">The language's word for nothing where there is none.</param>
internal sealed record OutcomeView(
    Raw Name,
    Raw State,
    Raw Low,
    Raw High,
    Raw LowBy,
    Raw HighBy,
    Raw ScaleAbove,
    Raw ScaleBelow,
    Raw Unit,
    Raw Step,
    IReadOnlyList<Raw> Reads,
    Raw IsFraction
);

internal sealed record BandView(Raw Name, Raw OnShortForm, Raw Line, IReadOnlyList<Raw> Bands);

internal sealed record ActionView(Raw Name, Raw Applies, Raw AppliesNot);
