namespace ProtocolKit.Model;

/// <summary>
/// A filled record, read and checked against its protocol. It holds a case code and never a name.
/// </summary>
public sealed record SittingRecord
{
    public required string Case { get; init; }
    public required Age Age { get; init; }
    public required IReadOnlyList<DateOnly> Seen { get; init; }
    public required bool IsShortForm { get; init; }
    public string? Rater { get; init; }

    /// <summary>One value per field of the core program, each within the field's bounds.</summary>
    public required IReadOnlyList<long> Fields { get; init; }

    /// <summary>By task, with a side where it has one: the rung of help used.</summary>
    public IReadOnlyDictionary<string, string> Help { get; init; } = new Dictionary<string, string>();
    public IReadOnlyDictionary<string, string> History { get; init; } = new Dictionary<string, string>();
    public IReadOnlyDictionary<string, bool> Consents { get; init; } = new Dictionary<string, bool>();
    public IReadOnlyDictionary<string, string> Notes { get; init; } = new Dictionary<string, string>();
    public Override? Override { get; init; }

    /// <summary>What happened besides the tasks, such as a gag.</summary>
    public IReadOnlyList<SittingEvent> Events { get; init; } = [];

    /// <summary>What was changed after the sitting; the answers hold the new values.</summary>
    public IReadOnlyList<Correction> Corrections { get; init; } = [];

    /// <summary>Answers outside their plausible bounds and other remarks made when the record was read.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];
}

/// <summary>A clinician's decision beside the rule's.</summary>
public sealed record Override(string Action, string Reason, string Role);

/// <summary>Something that happened in the sitting: what, at which task, what touched, and what was done.</summary>
public sealed record SittingEvent(
    string What,
    string? Task,
    string? Touched,
    string? Recovered,
    string? Done
);

/// <summary>A change made after the sitting. <paramref name="Who"/> is a code; <paramref name="Key"/> the answer changed.</summary>
public sealed record Correction(string Who, DateOnly When, string Why, string Old, string New, string? Key);
