namespace ProtocolKit.Model;

/// <summary>What a student practises on a worksheet.</summary>
public enum WorksheetKind
{
    /// <summary>Rate what is described.</summary>
    Rate,

    /// <summary>Add up ratings and find the band.</summary>
    Total,

    /// <summary>Find the one slip in a filled sheet.</summary>
    Slip,

    /// <summary>Work out the age on the day.</summary>
    Age,

    /// <summary>Compare two raters of one child.</summary>
    Raters,
}

/// <summary>Invented cases for students, and the key that goes with them.</summary>
/// <param name="Seed">The same protocol, kind, number and seed give the same sheets.</param>
/// <param name="Checklist">What the examiner does at each task, from its cue card.</param>
public sealed record PracticeSheet(
    Protocol Protocol,
    WorksheetKind Kind,
    ulong Seed,
    IReadOnlyList<PracticeCase> Cases,
    IReadOnlyList<ChecklistTask> Checklist
)
{
    /// <summary>Cases of the short form, with its own cut-offs.</summary>
    public bool IsShortForm { get; init; }
}

/// <param name="Number">From 1.</param>
/// <param name="Task">What is to be done, in a sentence.</param>
/// <param name="Facts">What is known: a name and a text each.</param>
/// <param name="Rows">What is described or recorded; empty last cells are for the student.</param>
/// <param name="Questions">What is asked at the end, each with room for an answer.</param>
/// <param name="Key">The rule applied at each step, in order.</param>
public sealed record PracticeCase(
    int Number,
    string Task,
    IReadOnlyList<(string Name, string Text)> Facts,
    IReadOnlyList<string> Columns,
    IReadOnlyList<IReadOnlyList<string>> Rows,
    IReadOnlyList<string> Questions,
    IReadOnlyList<string> Key
);

/// <param name="Steps">What an observer ticks while a student gives the task.</param>
public sealed record ChecklistTask(string Title, IReadOnlyList<string> Steps);
