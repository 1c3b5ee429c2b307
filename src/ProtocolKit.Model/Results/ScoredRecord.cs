namespace ProtocolKit.Model;

/// <summary>Everything a record came to, with the reasons.</summary>
public sealed record ScoredRecord
{
    public required Protocol Protocol { get; init; }
    public required SittingRecord Record { get; init; }
    public required Age Age { get; init; }
    public required IReadOnlyList<KeptResult> Kept { get; init; }
    public required IReadOnlyList<OutcomeResult> Outcomes { get; init; }
    public required IReadOnlyList<BandResult> Bands { get; init; }
    public required IReadOnlyList<ActionResult> Actions { get; init; }
    public required ProtocolAction? Headline { get; init; }

    /// <summary>Things to know that refuse nothing: implausible answers, another interpretation, and the like.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }

    /// <summary>The value of every line of the core program; conditions are 0 and 1.</summary>
    public required IReadOnlyList<long> Lines { get; init; }
}

/// <summary>An answer after the kept trial: known, or the reason why not.</summary>
/// <param name="Value">The low end, as the lines of the kept trial hold it; 0 unless known.</param>
/// <param name="Trial">The kept trial, 0 when none or when there is only one.</param>
public sealed record KeptResult(KeptLines Lines, State State, long Value, int Trial)
{
    /// <summary>Whether its task was given; what wasn't may be known all the same, by a credit.</summary>
    public Giving Giving { get; init; }
}

/// <summary>
/// A measure or score: known with both ends (equal when exact), or not applicable, or blocked with a reason.
/// </summary>
/// <param name="Untried">The answers it rests on that were not tried, with their codes.</param>
public sealed record OutcomeResult(
    Outcome Outcome,
    State State,
    Rational Low,
    Rational High,
    IReadOnlyList<(string Key, State State)> Untried
)
{
    /// <summary>Which side is the weaker one, where this is a side difference.</summary>
    public WeakerSide? Weaker { get; init; }

    public bool IsExact => State == State.Known && Low == High;
    public bool IsBounded => State == State.Known && Low != High;
}

public enum BandState
{
    Known,
    Undecided,
    NotApplicable,
    Blocked,
    NoBand,
}

/// <param name="Row">The row for the child's age, where there is one.</param>
/// <param name="Band">The band, when <see cref="State"/> is known.</param>
public sealed record BandResult(CutOffTable Table, CutOffRow? Row, BandState State, Band? Band)
{
    /// <summary>The band's name, or in words why there is none.</summary>
    public string Word =>
        State switch
        {
            BandState.Known => Band!.Name,
            BandState.Undecided => "undecided",
            BandState.NotApplicable => "not applicable",
            BandState.Blocked => "blocked",
            _ => "no band",
        };
}

public enum Decision
{
    Applies,
    AppliesNot,
    Undecided,
}

public sealed record ActionResult(ProtocolAction Action, Decision Decision)
{
    /// <summary>The decision as results in other forms than prose say it.</summary>
    public string Word =>
        Decision switch
        {
            Decision.Applies => "applies",
            Decision.AppliesNot => "applies not",
            _ => "undecided",
        };
}
