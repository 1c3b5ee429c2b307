using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Paper;

/// <summary>What the record sheet's templates see.</summary>
/// <param name="Language">Of the texts, as HTML wants it: <c>en</c>.</param>
/// <param name="Title">The protocol’s title.</param>
/// <param name="Edition">As the protocol gives it.</param>
/// <param name="Form">Which form it is: <c>Full form</c>, or the short one with its minutes.</param>
/// <param name="ForAge">The one age the sheet is for; missing where it is for all.</param>
/// <param name="RecordCode">The code printed into the box; missing where it is written by hand.</param>
/// <param name="LeftHanded">Mirrored for a left-handed writer.</param>
/// <param name="Page">Sizes of the page, and its foot.</param>
/// <param name="First">What stands before the first task.</param>
/// <param name="Tasks">In giving order.</param>
/// <param name="Codes">Why nothing could be rated, a letter each.</param>
/// <param name="Totals">Scores, bands and actions for the page after the child has gone.</param>
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
/// <param name="Size">Paper, as a style sheet names it.</param>
/// <param name="Clip">Clear at the top for a clip, a length.</param>
/// <param name="Side">Clear at each side, a length.</param>
/// <param name="Foot">Room for the foot, a length.</param>
/// <param name="RecordLabel">Beside the box for the record’s code.</param>
/// <param name="FootText">Edition, fingerprint and legend of codes.</param>
/// <param name="Mirrored">The box stands at the right.</param>
public sealed record PageView(
    string Size,
    string Clip,
    string Side,
    string Foot,
    Raw RecordLabel,
    Raw FootText,
    bool Mirrored
);

/// <param name="Purpose">What the protocol is for; missing where it doesn’t say.</param>
/// <param name="Sitting">How long a sitting takes; empty where it doesn’t say.</param>
/// <param name="ConsentLine">The duty to ask for consent first.</param>
/// <param name="Consents">What is asked for, one by one.</param>
/// <param name="GateLine">The duty to read the case history first.</param>
/// <param name="Gates">What is asked before the mouth is touched.</param>
/// <param name="ChildLines">What protects the child while tasks are given.</param>
/// <param name="Notices">Everything else to keep in mind.</param>
/// <param name="Materials">What is laid out.</param>
/// <param name="Cautions">The protocol’s own.</param>
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

/// <param name="Text">What it is.</param>
/// <param name="Amount">How much of it; missing where one is enough.</param>
public sealed record MaterialView(string Text, string? Amount);

/// <param name="Text">The sentence.</param>
/// <param name="Covers">What it is about, such as <c>touching the face</c>; empty for a general one.</param>
public sealed record CautionView(string Text, string Covers);

/// <summary>One task as it stands on the sheet; never split across pages.</summary>
/// <param name="Name">As the protocol calls it, for links.</param>
/// <param name="Number">In giving order, from 1.</param>
/// <param name="Title">The task’s title.</param>
/// <param name="Contact">What the task touches, in words.</param>
/// <param name="Touches">The task touches the face or the mouth.</param>
/// <param name="InShortForm">The short form has it too.</param>
/// <param name="Banner">Printed before the task where contact begins or changes.</param>
/// <param name="Heading">The section's title where a run of its tasks begins.</param>
/// <param name="Rule">Trials, and what of them counts, in words; empty where there is one.</param>
/// <param name="Scales">Levels to rate by.</param>
/// <param name="Rungs">Helps in their order, with none as 0.</param>
/// <param name="Layout"><c>single</c>, <c>plain</c> (nothing to tick), <c>ticks</c> (nothing else), or <c>pair</c>: sides or places
/// beside each other.</param>
/// <param name="OnlyOptions">Options need more width than ratings, and leave less to ticks.</param>
/// <param name="Parts">Its answers, a part for each side or place.</param>
/// <param name="NoteLabel">What the line for notes asks for.</param>
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

/// <param name="Title">What begins here.</param>
/// <param name="Text">What to do before it.</param>
public sealed record BannerView(string Title, string Text);

/// <param name="Label">The response's name where a task is rated on several things.</param>
/// <param name="Levels">The highest first.</param>
public sealed record ScaleView(string? Label, IReadOnlyList<LevelView> Levels);

/// <param name="Points">What it is worth.</param>
/// <param name="Text">How it looks.</param>
/// <param name="Example">Of this task; missing where there is none.</param>
public sealed record LevelView(string Points, string Text, string? Example);

/// <param name="Digit">What is circled.</param>
/// <param name="Text">Which help it is.</param>
public sealed record RungView(string Digit, string Text);

/// <summary>The answers of one side, place, sound or word, or of the whole task.</summary>
/// <param name="Title">The side, place, sound or word; empty for a task of one part.</param>
/// <param name="Side"><c>right</c>, <c>left</c> or empty; shown by a small face.</param>
/// <param name="Trials">In order.</param>
/// <param name="HasHelp">Help used is circled here.</param>
/// <param name="Ticks">Signs to look for.</param>
public sealed record PartView(
    string Title,
    string Side,
    IReadOnlyList<TrialView> Trials,
    bool HasHelp,
    IReadOnlyList<TickView> Ticks
);

/// <param name="Label">Which trial it is; missing where there is one.</param>
/// <param name="Answers">What is written for it.</param>
public sealed record TrialView(string? Label, IReadOnlyList<AnswerView> Answers);

/// <param name="Key">The answer's name in a record.</param>
/// <param name="Kind"><c>rating</c>, <c>direction</c>, <c>options</c>, <c>number</c> or <c>free</c>.</param>
/// <param name="Label">What is asked; missing where the task says it.</param>
/// <param name="Boxes">To tick, or to write digits into.</param>
/// <param name="Unit">After the digits; missing where there is none.</param>
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

/// <param name="Key">Its name in a record.</param>
/// <param name="Text">The sign.</param>
public sealed record TickView(string Key, string Text);

/// <summary>The page that is filled in after the child has gone.</summary>
/// <param name="Banded">Scores and measures with cut-offs.</param>
/// <param name="Others">Those without.</param>
/// <param name="Actions">The most severe first.</param>
/// <param name="AnyProvisional">Some of the cut-offs have too little evidence yet.</param>
public sealed record TotalsView(
    IReadOnlyList<BandedView> Banded,
    IReadOnlyList<OutcomeView> Others,
    IReadOnlyList<ActionView> Actions,
    bool AnyProvisional
);

/// <param name="Title">Of the score or measure.</param>
/// <param name="Formula">How it is worked out, in words.</param>
/// <param name="Range">What is possible, with the unit.</param>
/// <param name="Timing">How exactly it is timed by hand; missing where nothing is.</param>
public sealed record OutcomeView(string Title, string Formula, string Range, string? Timing)
{
    /// <summary>The table it is looked up in; null where it is worked out.</summary>
    public LookupView? Table { get; init; }
}

/// <param name="Of">The title of what is looked up.</param>
/// <param name="Ages">Heads of the columns.</param>
/// <param name="Rows">Raw values and the result under each age.</param>
/// <param name="Provisional">The table has too little evidence yet.</param>
/// <param name="Basis">What the table rests on.</param>
public sealed record LookupView(
    string Of,
    IReadOnlyList<string> Ages,
    IReadOnlyList<BandRowView> Rows,
    bool Provisional,
    string Basis
);

/// <param name="Outcome">What is banded.</param>
/// <param name="Bands">Their names, the worst first.</param>
/// <param name="Rows">The values of each band by age.</param>
/// <param name="Provisional">The cut-offs have too little evidence yet.</param>
/// <param name="Basis">What the cut-offs rest on.</param>
public sealed record BandedView(
    OutcomeView Outcome,
    IReadOnlyList<string> Bands,
    IReadOnlyList<BandRowView> Rows,
    bool Provisional,
    string Basis
);

/// <param name="Ages">From and to, or the raw values of a table.</param>
/// <param name="Cells">Under each head in turn; a dash where there is nothing.</param>
public sealed record BandRowView(string Ages, IReadOnlyList<string> Cells);

/// <param name="Title">Of the action.</param>
/// <param name="Urgency">Within what time; missing where there is no hurry.</param>
/// <param name="Conditions">When it applies, in words; any one is enough.</param>
public sealed record ActionView(string Title, string? Urgency, IReadOnlyList<string> Conditions);
