using ProtocolKit.Testing;

namespace ProtocolKit.Verification;

public enum Agreement
{
    /// <summary>Every line and every output of every record was the same.</summary>
    Agreed,
    Differs,

    /// <summary>It did not run, or not to the end. That is never an agreement.</summary>
    NotRun,
}

/// <summary>What a run of verify found.</summary>
/// <param name="Records">All records that were to be run: edges, exactly sampled and random ones.</param>
/// <param name="AtEdges">Those of them at edges.</param>
/// <param name="AllEdges">All records at edges there are; more than were run where they are very many.</param>
public sealed record VerifyReport(
    int Records,
    int AtEdges,
    int AllEdges,
    ulong Seed,
    IReadOnlyList<TargetReport> Targets
)
{
    /// <summary>Those drawn exactly: uniform over all records of a band, an action or a value beside a limit.</summary>
    public int Sampled { get; init; }

    /// <summary>Whether a program that isn't installed counts as a mistake.</summary>
    public bool MissingIsWrong { get; init; }

    public bool AnyDiffers => Targets.Any(t => t.Agreement == Agreement.Differs);

    /// <summary>
    /// True where at least one target agreed and no other differs or failed; a program that isn't installed on
    /// this machine is no mistake of the code, but must not pass for one on a build server.
    /// </summary>
    public bool NothingWrong =>
        Targets.Any(t => t.Agreement == Agreement.Agreed)
        && Targets.All(t => t.Agreement == Agreement.Agreed || (t.IsMissing && !MissingIsWrong));

    /// <summary>True only where there is a target and each ran to the end and agreed.</summary>
    public bool AllAgreed => Targets.Count > 0 && Targets.All(t => t.Agreement == Agreement.Agreed);
}

/// <param name="Records">How many records it was run on, with the reference's answer at hand.</param>
/// <param name="Elapsed">Time spent in the target alone, getting it ready included.</param>
/// <param name="Reason">Why it was not run; empty otherwise.</param>
/// <param name="IsMissing">It was not run because a program it needs isn't installed.</param>
/// <param name="Difference">The smallest record found on which it differs.</param>
public sealed record TargetReport(
    string Target,
    int Records,
    TimeSpan Elapsed,
    Agreement Agreement,
    string Reason,
    bool IsMissing,
    Difference? Difference
);

/// <summary>A record for which a target says something else than the reference.</summary>
/// <param name="What">The line or output, such as <c>line tongue-total.low</c> or <c>band tongue-total</c>.</param>
/// <param name="Record">The record as it is written down.</param>
/// <param name="Answers">What sets it apart from the flawless sheet, one answer a text; none: it is that sheet.</param>
public sealed record Difference(
    string What,
    string Expected,
    string Actual,
    PlainRecord Record,
    IReadOnlyList<string> Answers,
    IReadOnlyList<long> Fields
);
