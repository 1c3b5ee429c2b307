using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Paper;

/// <summary>What the record sheet's templates see.</summary>
public sealed record SheetView(
    string Language,
    string Title,
    string Edition,
    string Form,
    string? ForAge,
    string? RecordCode,
    bool LeftHanded,
    PageView Page,
    FirstPageView First,
    IReadOnlyList<TaskView> Tasks,
    IReadOnlyList<CodeView> Codes,
    TotalsView Totals
);

/// <summary>Lengths with their unit, and strings ready for a style sheet.</summary>
public sealed record PageView(
    string Size,
    string Clip,
    string Side,
    string Foot,
    Raw RecordLabel,
    Raw FootText,
    bool Mirrored
);

/// <param name="ChildLines">What protects the child while tasks are given.</param>
/// <param name="Notices">Everything else to keep in mind.</param>
public sealed record FirstPageView(
    string? Purpose,
    string Sitting,
    string ConsentLine,
    IReadOnlyList<string> Consents,
    string GateLine,
    IReadOnlyList<string> Gates,
    IReadOnlyList<string> ChildLines,
    IReadOnlyList<string> Notices,
    IReadOnlyList<MaterialView> Materials,
    IReadOnlyList<CautionView> Cautions
);

public sealed record MaterialView(string Text, string? Amount);

/// <param name="Covers">What it is about, such as <c>touching the face</c>; empty for a general one.</param>
public sealed record CautionView(string Text, string Covers);

/// <summary>One task as it stands on the sheet; never split across pages.</summary>
/// <param name="Banner">Printed before the task where contact begins or changes.</param>
/// <param name="Heading">The section's title where a run of its tasks begins.</param>
/// <param name="Layout"><c>single</c>, <c>plain</c> (nothing to tick), <c>ticks</c> (nothing else), or <c>pair</c>: sides or places
/// beside each other.</param>
/// <param name="OnlyOptions">Options need more width than ratings, and leave less to ticks.</param>
public sealed record TaskView(
    string Name,
    string Number,
    string Title,
    string Contact,
    bool Touches,
    bool InShortForm,
    BannerView? Banner,
    string? Heading,
    string Rule,
    IReadOnlyList<ScaleView> Scales,
    IReadOnlyList<RungView> Rungs,
    string Layout,
    bool OnlyOptions,
    IReadOnlyList<PartView> Parts,
    string NoteLabel
);

public sealed record BannerView(string Title, string Text);

/// <param name="Label">The response's name where a task is rated on several things.</param>
public sealed record ScaleView(string? Label, IReadOnlyList<LevelView> Levels);

public sealed record LevelView(string Points, string Text, string? Example);

public sealed record RungView(string Digit, string Text);

/// <summary>The answers of one side, place, sound or word, or of the whole task.</summary>
/// <param name="Side"><c>right</c>, <c>left</c> or empty; shown by a small face.</param>
public sealed record PartView(
    string Title,
    string Side,
    IReadOnlyList<TrialView> Trials,
    bool HasHelp,
    IReadOnlyList<TickView> Ticks
);

public sealed record TrialView(string? Label, IReadOnlyList<AnswerView> Answers);

/// <param name="Key">The answer's name in a record.</param>
/// <param name="Kind"><c>rating</c>, <c>direction</c>, <c>options</c>, <c>number</c> or <c>free</c>.</param>
public sealed record AnswerView(
    string Key,
    string Kind,
    string? Label,
    IReadOnlyList<BoxView> Boxes,
    string? Unit
);

/// <param name="Text">Inside the box of a rating or direction, beside that of an option.</param>
/// <param name="Point">A decimal point stands before this box.</param>
public sealed record BoxView(string Text, bool Point);

public sealed record TickView(string Key, string Text);

/// <summary>The page that is filled in after the child has gone.</summary>
public sealed record TotalsView(
    IReadOnlyList<BandedView> Banded,
    IReadOnlyList<OutcomeView> Others,
    IReadOnlyList<ActionView> Actions,
    bool AnyProvisional
);

public sealed record OutcomeView(string Title, string Formula, string Range, string? Timing)
{
    /// <summary>The table it is looked up in; null where it is worked out.</summary>
    public LookupView? Table { get; init; }
}

/// <param name="Of">The title of what is looked up.</param>
/// <param name="Rows">Raw values and the result under each age.</param>
public sealed record LookupView(
    string Of,
    IReadOnlyList<string> Ages,
    IReadOnlyList<BandRowView> Rows,
    bool Provisional,
    string Basis
);

public sealed record BandedView(
    OutcomeView Outcome,
    IReadOnlyList<string> Bands,
    IReadOnlyList<BandRowView> Rows,
    bool Provisional,
    string Basis
);

public sealed record BandRowView(string Ages, IReadOnlyList<string> Cells);

public sealed record ActionView(string Title, string? Urgency, IReadOnlyList<string> Conditions);
