namespace ProtocolKit.Model;

/// <summary>
/// The core program: fields, then single assignments over integers, in an order in which each line reads
/// only fields and earlier lines. Scoring evaluates it; every target prints it line by line.
/// </summary>
public sealed record ScoringProgram
{
    /// <summary>The largest size any value may take on its way: beyond it doubles are no longer exact.</summary>
    public const long Limit = (1L << 53) - 1;

    public required IReadOnlyList<ProgramField> Fields { get; init; }
    public required IReadOnlyList<ProgramLine> Lines { get; init; }

    /// <summary>The field that holds the age in completed months.</summary>
    public required int AgeField { get; init; }

    /// <summary>The field that holds the form: 0 full, 1 short.</summary>
    public required int FormField { get; init; }

    /// <summary>One slot per answer a record can hold, in giving order.</summary>
    public required IReadOnlyList<AnswerSlot> Answers { get; init; }

    public required IReadOnlyList<ObservationSlot> Observations { get; init; }

    /// <summary>One slot per question of the case history that opens or closes tasks.</summary>
    public IReadOnlyList<HistorySlot> History { get; init; } = [];

    /// <summary>Tasks, sides and places that routing may keep from being given, in giving order.</summary>
    public IReadOnlyList<GivingLines> Giving { get; init; } = [];

    /// <summary>How many lines, from the first on, say which tasks are given: they read nothing beyond.</summary>
    public int GivingEnd => Giving.Count == 0 ? 0 : Giving.Max(g => Math.Max(g.GivenLine, g.WhyLine)) + 1;

    public required IReadOnlyList<KeptLines> Kept { get; init; }
    public required IReadOnlyList<OutcomeLines> Outcomes { get; init; }
    public required IReadOnlyList<BandLine> Bands { get; init; }
    public required IReadOnlyList<ActionLines> Actions { get; init; }

    /// <summary>The line with the index of the first action that applies, or -1; -1 itself without actions.</summary>
    public required int HeadlineLine { get; init; }

    public required IReadOnlyList<ClaimLines> Claims { get; init; }
}

/// <summary>A field of the record: a whole number of steps within hard bounds.</summary>
/// <param name="Name">Unique in the program, such as <c>pa-run.syllables.trial-2</c> or <c>….state</c>.</param>
/// <param name="Note">Step and unit in words, for people who read emitted code.</param>
public sealed record ProgramField(string Name, long Low, long High, string Note);

/// <summary>One assignment: exactly one of <see cref="Value"/> and <see cref="Condition"/> is present.</summary>
/// <param name="Name">Unique among fields and lines; letters, digits, hyphens and dots.</param>
/// <param name="Note">What the line means, for people who read emitted code.</param>
public sealed record ProgramLine(string Name, IntExpr? Value, BoolExpr? Condition, string Note)
{
    /// <summary>Proved limits; 0 and 1 for a condition.</summary>
    public long Low => Value?.Low ?? 0;

    public long High => Value?.High ?? 1;
}

/// <summary>
/// How it stands with an answer or a value. Order matters: blocked beats not applicable beats known, and of
/// several reasons the greatest stands. The numbers are those of the core program's state fields and lines.
/// </summary>
public enum State
{
    Known = 0,
    NotApplicable = 1,
    NotPlanned = 2,
    OutOfTime = 3,
    Refused = 4,
    NotUnderstood = 5,
    Spoiled = 6,
    NotPossible = 7,
    Stopped = 8,
}

public static class States
{
    /// <summary>The untried codes in the order they stand on a sheet, each with its word in a record.</summary>
    public static IReadOnlyList<(State State, string Code, string Words)> Untried { get; } =
    [
        (State.Refused, "refused", "refused"),
        (State.NotUnderstood, "not-understood", "not understood"),
        (State.NotPossible, "not-possible", "not possible"),
        (State.Stopped, "stopped", "stopped for welfare"),
        (State.OutOfTime, "out-of-time", "out of time"),
        (State.Spoiled, "spoiled", "spoiled"),
        (State.NotPlanned, "not-planned", "not planned"),
    ];

    public static bool IsUntried(this State state) => state >= State.NotPlanned;

    public static string ToWords(this State state) =>
        state switch
        {
            State.Known => "known",
            State.NotApplicable => "not applicable",
            _ => Untried.First(u => u.State == state).Words,
        };
}

/// <summary>
/// Where an answer lives. <see cref="Key"/> is its name in records and tables:
/// <c>task.response[.side][.trial-N]</c>.
/// </summary>
/// <param name="Trial">1 to n; 1 where the task has a single trial.</param>
/// <param name="ValueField">Steps, or the index of a level (0 the lowest points) or an option.</param>
/// <param name="StateField">A <see cref="State"/>.</param>
public sealed record AnswerSlot(
    string Key,
    ProtocolTask Task,
    Response Response,
    Variant Variant,
    int Trial,
    int ValueField,
    int StateField
)
{
    /// <summary>
    /// It says which help was given (trial 1, from the strongest to none), or what came of it (trial 2). Only where help has a
    /// cost. In a record both stand under help.
    /// </summary>
    public bool IsHelp { get; init; }
}

/// <summary>Where an observation lives: 0 not looked, 1 looked and not seen, 2 seen.</summary>
public sealed record ObservationSlot(
    string Key,
    ProtocolTask Task,
    Observation Observation,
    Variant Variant,
    int Field
);

/// <summary>The kept trial of a response: its state and the ends of its value (of an index for options).</summary>
/// <param name="Key"><c>task.response[.side]</c>.</param>
/// <param name="TrialLine">The line with the number of the kept trial, 0 when none; -1 for a single trial.</param>
public sealed record KeptLines(
    string Key,
    ProtocolTask Task,
    Response Response,
    Variant Variant,
    int StateLine,
    int LowLine,
    int HighLine,
    int TrialLine
)
{
    /// <summary>
    /// Where the value is no longer one a trial can have (a mean of trials, help with a cost): the step its lines count in, in
    /// points or in the answer's unit. Null: the lines hold the encoding of the answer's field.
    /// </summary>
    public Rational? Step { get; init; }
}

/// <summary>
/// A measure or score: its state and both ends in whole steps; or, without a step, as fractions whose
/// denominators are lines of their own (-1 with a step) times <see cref="Scale"/>.
/// </summary>
/// <param name="Scale">A value is numerator / denominator × scale; the step where there is one.</param>
/// <param name="Reads">Keys of all answers the value rests on (kept ones, without a trial).</param>
public sealed record OutcomeLines(
    Outcome Outcome,
    int StateLine,
    int LowLine,
    int HighLine,
    int LowDenominatorLine,
    int HighDenominatorLine,
    Rational Scale,
    IReadOnlyList<string> Reads
)
{
    /// <summary>The lines a sum is scaled up from; null where it never is.</summary>
    public ScaledUpLines? ScaledUp { get; init; }

    /// <summary>The lines that say which side is the weaker one; null where the value is no side difference.</summary>
    public SideLines? Sides { get; init; }
}

/// <param name="WeakerLine">A <see cref="WeakerSide"/>.</param>
/// <param name="Tasks">What each task says, sided tasks and directions alike.</param>
public sealed record SideLines(int WeakerLine, IReadOnlyList<SideTaskLines> Tasks);

/// <summary>Conditions: the task surely shows the left side, or the right side, to be the weaker one.</summary>
public sealed record SideTaskLines(ProtocolTask Task, int LeftLine, int RightLine);

/// <summary>How a sum with untried parts was made up to its full range.</summary>
/// <param name="PointsLine">Steps above their least value that the answered parts came to.</param>
/// <param name="MostLine">The most steps above their least value they could have come to.</param>
/// <param name="UntriedLine">How many parts are untried.</param>
public sealed record ScaledUpLines(int PointsLine, int MostLine, int UntriedLine);

/// <summary>
/// The band of a cut-off table: the index of the band (0 is the leftmost, the worst), or the number of bands plus
/// 0 undecided, 1 not applicable, 2 blocked, 3 in no band.
/// </summary>
public sealed record BandLine(CutOffTable Table, int Line);

/// <summary>Two conditions: the action surely applies, and it surely does not.</summary>
public sealed record ActionLines(ProtocolAction Action, int AppliesLine, int AppliesNotLine);

/// <summary>A claim fails where its premise surely holds and its conclusion surely does not.</summary>
public sealed record ClaimLines(Claim Claim, int PremiseLine, int ConclusionFailsLine);
