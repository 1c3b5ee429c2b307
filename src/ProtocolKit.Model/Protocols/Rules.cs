namespace ProtocolKit.Model;

/// <summary>A measure or a score: a value the scoring program computes.</summary>
/// <param name="Formula">As the author wrote it, for manuals and emitted code.</param>
/// <param name="Step">Null: a fraction, never printed rounded, banded or kept by.</param>
/// <param name="Low">The proved range of the value, in its unit.</param>
public sealed record Outcome(
    string Name,
    string Title,
    bool IsScore,
    string Formula,
    Unit Unit,
    Rational? Step,
    Rational Low,
    Rational High,
    string? TimingError,
    Origin Origin
)
{
    /// <summary>What it does where an answer it rests on is untried.</summary>
    public UntriedPolicy Untried { get; init; }

    /// <summary>How many untried parts are made up for, where it is <see cref="UntriedPolicy.ScaledUp"/>.</summary>
    public int ScaledUpAtMost { get; init; }

    /// <summary>The table the value is looked up in; null where it is worked out.</summary>
    public LookupTable? Table { get; init; }

    /// <summary>The ends the author says it has, to be proved.</summary>
    public RangeClaim? ClaimedRange { get; init; }

    /// <summary>Set where the value is left minus right: how many tasks must agree before a side is called the weaker one.</summary>
    public int? SidesAgree { get; init; }

    /// <summary>What else is said of the value, such as <c>untried blocks</c>, as written.</summary>
    public IReadOnlyList<string> Rules { get; init; } = [];
}

/// <summary>What a side difference says of the child's own sides. The numbers are those of the core program's line.</summary>
public enum WeakerSide
{
    Neither = 0,
    Left = 1,
    Right = 2,
    Undecided = 3,
    NotApplicable = 4,
}

/// <summary>From one end to the other, both in the outcome's unit.</summary>
public sealed record RangeClaim(Rational From, Rational To, Origin Origin);

/// <summary>
/// A value by age, looked up and never interpolated: a percentile or a scaled score of a raw one. Every raw value has its result.
/// </summary>
/// <param name="Of">The name of the raw value.</param>
/// <param name="Ages">One for each column.</param>
public sealed record LookupTable(
    string Of,
    string OfTitle,
    Unit OfUnit,
    IReadOnlyList<AgeRange> Ages,
    IReadOnlyList<LookupRow> Rows,
    Basis Basis
);

/// <summary>Inclusive limits of the raw value, and a result a column; null where there is none at these ages.</summary>
public sealed record LookupRow(Rational From, Rational To, IReadOnlyList<Rational?> Results);

/// <summary>What an untried answer does to a measure or score that rests on it (core.md R3).</summary>
public enum UntriedPolicy
{
    /// <summary>The value lies between two ends.</summary>
    Bounds,

    /// <summary>There is no value.</summary>
    Blocks,

    /// <summary>A few are made up for in proportion to the points of the rest; more leave no value.</summary>
    ScaledUp,
}

/// <summary>Bands of a measure or score by age. Bands stand from the worst on the left to the best.</summary>
public sealed record CutOffTable(
    Outcome Outcome,
    bool ShortForm,
    IReadOnlyList<Band> Bands,
    IReadOnlyList<CutOffRow> Rows,
    Basis Basis,
    Origin Origin
)
{
    /// <summary>Why a better sitting may get a worse band; null where it must not.</summary>
    public string? WorseOnPurpose { get; init; }
}

/// <summary>Cells in the order of the bands; null where no value falls into the band at these ages.</summary>
public sealed record CutOffRow(AgeRange Ages, IReadOnlyList<CutOffCell?> Cells, Origin Origin)
{
    /// <summary>
    /// True where it holds although tasks were left out by a skip or a stop. A row made for the full range doesn't.
    /// </summary>
    public bool AlsoWithLeftOut { get; init; }
}

/// <summary>Inclusive limits in the outcome's unit, on its step.</summary>
public sealed record CutOffCell(Rational From, Rational To);

public enum BasisKind
{
    Provisional,
    Published,
    Pilot,
}

/// <summary>What cut-offs rest on. Small pilots stay provisional whatever was typed.</summary>
/// <param name="Details">Further lines as written: cases, reference judgement, blinding, dates, interval.</param>
public sealed record Basis(
    BasisKind Kind,
    string Text,
    int? Children,
    int? Cases,
    IReadOnlyList<string> Details
)
{
    /// <summary>Children per row under which a pilot stays provisional. Common practice, no source.</summary>
    public const int SmallRow = 30;

    public required bool IsProvisional { get; init; }

    /// <summary>How many children with the need the cut-offs miss, such as <c>4 of 49</c>; null where it was not counted.</summary>
    public string? Misses => Detail("misses");

    /// <summary>How many children without the need they point out, such as <c>9 of 131</c>; null where it was not counted.</summary>
    public string? FalseAlarms => Detail("false-alarms");

    private string? Detail(string name) =>
        Details.FirstOrDefault(d => d.StartsWith($"{name} ", StringComparison.Ordinal))?[(name.Length + 1)..];
}

/// <param name="Urgency">Such as <c>within 2 weeks</c>; null when none is stated.</param>
/// <param name="Finish">It asks to finish the untried parts, so it may stand in for a lost action.</param>
/// <param name="Conditions">As written, any of which is enough.</param>
public sealed record ProtocolAction(
    string Name,
    string Title,
    string? Urgency,
    bool Finish,
    IReadOnlyList<string> Conditions,
    Origin Origin
)
{
    /// <summary>Why a better sitting may bring this action where a worse one brings a milder one; null where it must not.</summary>
    public string? WorseOnPurpose { get; init; }
}

public sealed record Claim(string Text, string Premise, string Conclusion, Origin Origin);

/// <summary>When a change between two sittings is more than sittings differ by themselves.</summary>
/// <param name="Error">The standard error of measurement of one sitting, in the outcome's unit; above zero.</param>
/// <param name="Basis">Where the error comes from.</param>
/// <param name="Children">How many children it was found with, where stated.</param>
/// <param name="After">The time between the sittings it was found with, as written, such as <c>10 to 14 weeks</c>.</param>
public sealed record ReTest(
    Outcome Outcome,
    Rational Error,
    string Basis,
    int? Children,
    string? After,
    Origin Origin
)
{
    /// <summary>The error's 95% interval, where stated.</summary>
    public (Rational From, Rational To)? Interval { get; init; }

    /// <summary>The time between the sittings; null where none is stated.</summary>
    public Wait? Between { get; init; }
}

/// <summary>A time from the least to the most, in whole days, weeks or months, both included.</summary>
public sealed record Wait(int From, int To, WaitUnit Unit)
{
    /// <summary>
    /// True where the second day lies within this time after the first. A month ends on the same day number or, where the
    /// month lacks it, on the 1st of the next, as ages are counted.
    /// </summary>
    public bool Includes(DateOnly first, DateOnly second)
    {
        var passed = Unit switch
        {
            WaitUnit.Days => second.DayNumber - first.DayNumber,
            WaitUnit.Weeks => (second.DayNumber - first.DayNumber) / 7,
            _ => Age.Between(first, second)?.Months ?? -1,
        };
        return second >= first && From <= passed && passed <= To;
    }
}

public enum WaitUnit
{
    Days,
    Weeks,
    Months,
}
