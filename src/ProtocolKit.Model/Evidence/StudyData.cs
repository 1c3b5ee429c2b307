namespace ProtocolKit.Model;

/// <summary>One examiner's record of one sitting, scored, with what a study knows besides.</summary>
public sealed record StudySitting
{
    public required ScoredRecord Scored { get; init; }

    /// <summary>The child's code.</summary>
    public required string Case { get; init; }
    public required DateOnly Seen { get; init; }

    /// <summary>1 for the child's first sitting, 2 for the next day it was seen, and so on.</summary>
    public required int Number { get; init; }

    /// <summary>The examiner's code; empty where the record has none.</summary>
    public required string Rater { get; init; }

    public ReferenceJudgement Reference { get; init; } = ReferenceJudgement.None;

    /// <summary>What children may be grouped by, such as <c>sex</c>: names as in the data, values as typed.</summary>
    public IReadOnlyDictionary<string, string> Groups { get; init; } = new Dictionary<string, string>();

    /// <summary>Minutes the sitting took; null where nobody wrote it down.</summary>
    public Rational? Minutes { get; init; }

    /// <summary>Where it stands: a row of a table, or a file.</summary>
    public required Origin Place { get; init; }
}

/// <summary>What someone who didn't know the screen's result found by other means.</summary>
/// <param name="IsCase">Null: the child was not judged.</param>
/// <param name="IsBlind">Null: nobody wrote down whether the judge knew the screen's result.</param>
/// <param name="By">The judge's code.</param>
/// <param name="IsBorderline">The judge called the child just at the edge; null where that wasn't asked.</param>
public sealed record ReferenceJudgement(bool? IsCase, bool? IsBlind, string? By, bool? IsBorderline)
{
    public static ReferenceJudgement None { get; } = new(null, null, null, null);
}

/// <summary>Records read for a study, and what could not be taken.</summary>
/// <param name="Source">The name of the file or folder.</param>
/// <param name="Sittings">In the order of the data.</param>
/// <param name="LeftOut">What was not taken, place by place, with the reason.</param>
/// <param name="Remarks">Things to know that leave nothing out.</param>
public sealed record StudyData(
    Protocol Protocol,
    string Source,
    IReadOnlyList<StudySitting> Sittings,
    IReadOnlyList<LeftOutRecord> LeftOut,
    IReadOnlyList<string> Remarks
)
{
    /// <summary>What judges expect of a child just at the edge, item by item (Angoff).</summary>
    public IReadOnlyList<ExpectedPoints> Expected { get; init; } = [];

    /// <summary>Limits judges could live with (Hofstee).</summary>
    public IReadOnlyList<AcceptableLimits> Limits { get; init; } = [];
}

/// <param name="Item">An answer's key without its trial, or a score that the score adds up.</param>
/// <param name="Points">What a child just at the edge would get, on average.</param>
public sealed record ExpectedPoints(string Judge, string Score, string Item, Rational Points);

/// <summary>The lowest and highest cut, and the smallest and largest share of children to point out (0 to 1), a judge accepts.</summary>
public sealed record AcceptableLimits(
    string Judge,
    string Score,
    Rational LeastCut,
    Rational MostCut,
    Rational LeastShare,
    Rational MostShare
);

/// <summary>A record that was not taken, and why; nothing a child could be known by.</summary>
public sealed record LeftOutRecord(Origin Place, string Why);
