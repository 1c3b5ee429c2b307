using System.Numerics;

namespace ProtocolKit.Model;

/// <summary>What was found out about every record a protocol allows.</summary>
public sealed record ProofReport
{
    public required IReadOnlyList<ProofFinding> Findings { get; init; }

    /// <summary>What holds for every record, in plain words.</summary>
    public required IReadOnlyList<ProvedStatement> Proved { get; init; }

    /// <summary>What could not be worked out exactly, and why.</summary>
    public required IReadOnlyList<string> NotProved { get; init; }

    /// <summary>What gets worse on purpose, each with the author's reason.</summary>
    public IReadOnlyList<WaivedStatement> Waived { get; init; } = [];

    /// <summary>By outcome, form and ages; the same set at neighbouring ages is told once.</summary>
    public required IReadOnlyList<ReachableSet> Sets { get; init; }

    /// <summary>Different sheets of a child of one age, in the full form; null where it was not counted.</summary>
    public required RecordCount? Records { get; init; }
}

/// <summary>What kind of statement is proved.</summary>
public enum ProofTopic
{
    Bands,
    Actions,
    Claims,
    Ranges,

    /// <summary>Better answers never give a worse result.</summary>
    Monotony,

    /// <summary>An answer that is refused never softens a result.</summary>
    Refusal,
}

/// <param name="Text">A sentence, or what follows “proved”.</param>
public sealed record ProvedStatement(ProofTopic Topic, string Text);

/// <summary>Where a better sitting gets a worse result and the author says why.</summary>
/// <param name="Text">What gets worse, in a sentence.</param>
/// <param name="Reason">As the author wrote it.</param>
public sealed record WaivedStatement(string Text, string Reason, IReadOnlyList<ProofSitting> Sittings);

/// <param name="Complete">Sheets with every answer given and every observation looked for.</param>
/// <param name="All">Sheets with answers left untried for any of the reasons besides.</param>
public sealed record RecordCount(BigInteger Complete, BigInteger All);

/// <summary>What a finding of the proof is about.</summary>
public enum ProofKind
{
    /// <summary>A value some record reaches lies in no band.</summary>
    Gap,

    /// <summary>No record reaches a band of a row.</summary>
    UnreachableBand,
    UnreachableAction,

    /// <summary>An action that applies only where a more severe one does.</summary>
    NeverHeadline,

    /// <summary>A record for which no action surely applies.</summary>
    NoAction,
    ClaimFails,
    EmptyPremise,

    /// <summary>A value outside a claimed range, or a claimed end nobody reaches.</summary>
    RangeFails,

    /// <summary>A sitting as good or better throughout gets a worse band.</summary>
    WorseBand,

    /// <summary>A sitting as good or better throughout brings a more severe headline.</summary>
    WorseAction,

    /// <summary>A refused answer gives a better band, or an action goes without one in its place.</summary>
    SofterRefusal,

    NotProved,
}

/// <summary>One thing that holds or fails for some record, told at the line it concerns.</summary>
/// <param name="Origin">Where in the text.</param>
/// <param name="Text">What is found, in a sentence.</param>
/// <param name="Fix">What to write instead; null where only the author can know.</param>
/// <param name="Sittings">
/// The smallest record that shows it; two where a better one is compared with a worse one. Empty where nothing can be shown.
/// </param>
public sealed record ProofFinding(
    ProofKind Kind,
    Origin Origin,
    string Text,
    string? Fix,
    IReadOnlyList<ProofSitting> Sittings
);

/// <summary>A record told as a sitting.</summary>
/// <param name="Fields">One value per field of the scoring program.</param>
/// <param name="Words">What was rated, what was not tried, what came out; one sentence or list a line.</param>
public sealed record ProofSitting(IReadOnlyList<long> Fields, IReadOnlyList<string> Words);

/// <summary>The exact values a measure or score takes over all records of some ages and one form.</summary>
/// <param name="Values">Exact values, ascending, in the outcome's unit.</param>
/// <param name="Ranges">
/// Pairs of ends that untried answers leave open, ascending; empty for complete records. Null where they were not worked out.
/// </param>
/// <param name="States">Not applicable and the reasons for which it is blocked, where some record reaches them.</param>
public sealed record ReachableSet(
    Outcome Outcome,
    bool ShortForm,
    AgeRange Ages,
    bool Untried,
    IReadOnlyList<Rational> Values,
    IReadOnlyList<(Rational Low, Rational High)>? Ranges,
    IReadOnlyList<State> States
);
