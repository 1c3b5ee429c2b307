namespace ProtocolKit.Model;

/// <summary>
/// A filled record, read and checked against its protocol. It holds a case code and never a name.
/// </summary>
public sealed record SittingRecord
{
    public required string Case { get; init; }

    /// <summary>The age that counts: corrected for prematurity where the protocol says so.</summary>
    public required Age Age { get; init; }

    /// <summary>The age since birth where <see cref="Age"/> is a corrected one.</summary>
    public Age? SinceBirth { get; init; }

    /// <summary>Completed weeks of pregnancy at birth, where recorded.</summary>
    public int? GestationWeeks { get; init; }

    /// <summary>The fingerprints the record carries.</summary>
    public Fingerprints? Fingerprints { get; init; }

    /// <summary>16 hexadecimal digits of what the record says; layout, comments and the order of keys play no part.</summary>
    public string? Digest { get; init; }
    public required IReadOnlyList<DateOnly> Seen { get; init; }
    public required bool IsShortForm { get; init; }
    public Rater? Rater { get; init; }

    /// <summary>Where the record is one two raters agreed on: the two it was made from.</summary>
    public IReadOnlyList<OriginalRecord> AgreedFrom { get; init; } = [];

    /// <summary>Answers and signs that a later part of the sitting brought.</summary>
    public IReadOnlyList<LaterEntry> Later { get; init; } = [];

    /// <summary>One value per field of the core program, each within the field's bounds.</summary>
    public required IReadOnlyList<long> Fields { get; init; }

    /// <summary>By task, with a side where it has one: the rung of help used.</summary>
    public IReadOnlyDictionary<string, string> Help { get; init; } = new Dictionary<string, string>();

    /// <summary>What came of a task with that help, by <c>task.response[.side]</c>, as written.</summary>
    public IReadOnlyDictionary<string, string> Aided { get; init; } = new Dictionary<string, string>();
    public IReadOnlyDictionary<string, string> History { get; init; } = new Dictionary<string, string>();
    public IReadOnlyDictionary<string, bool> Consents { get; init; } = new Dictionary<string, bool>();
    public IReadOnlyDictionary<string, string> Notes { get; init; } = new Dictionary<string, string>();

    /// <summary>By task: whole seconds it was being given, all parts together, where somebody or the sitting page counted; never scored.</summary>
    public IReadOnlyDictionary<string, int> TaskSeconds { get; init; } = new Dictionary<string, int>();
    public Override? Override { get; init; }

    /// <summary>What happened besides the tasks, such as a gag.</summary>
    public IReadOnlyList<SittingEvent> Events { get; init; } = [];

    /// <summary>What was changed after the sitting; the fields hold the new values, the record keeps the old.</summary>
    public IReadOnlyList<Correction> Corrections { get; init; } = [];

    /// <summary>Answers outside their plausible bounds and other remarks made when the record was read.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];
}

/// <summary>A clinician's decision beside the rule's.</summary>
public sealed record Override(string Action, string Reason, string Role);

/// <summary>Something that happened in the sitting: what, at which task, what touched, and what was done.</summary>
public sealed record SittingEvent(string What, string? Task, string? Touched, string? Recovered, string? Done)
{
    /// <summary>
    /// Tasks that were given before it happened although they stand after its task in giving order, by name, with commas between
    /// them; null where the order was kept.
    /// </summary>
    public string? GivenBefore { get; init; }
}

/// <summary>A change made after the sitting. <paramref name="Who"/> is a code; <paramref name="Key"/> what was changed.</summary>
/// <param name="Old">As the record has it; <see cref="RecordKeys.Absent"/> where it had nothing.</param>
public sealed record Correction(string Who, DateOnly When, string Why, string Old, string New, string Key);

/// <summary>Who rated, by code, and how.</summary>
/// <param name="Role">Such as <c>speech-language pathologist</c> or <c>student</c>.</param>
/// <param name="TrainedUntil">The last day the rater's training holds.</param>
/// <param name="FromRecording">True: from a recording; false: live; null: not said.</param>
/// <param name="Blind">True where the rater knew nothing of the child's history and of other ratings.</param>
public sealed record Rater(
    string Code,
    string? Role = null,
    DateOnly? TrainedUntil = null,
    bool? FromRecording = null,
    bool? Blind = null
);

/// <summary>One of the two records an agreed one was made from, which stay as they are.</summary>
/// <param name="Digest">What <see cref="SittingRecord.Digest"/> says of it.</param>
public sealed record OriginalRecord(string Rater, string Digest);

/// <summary>Something a later part of the sitting brought.</summary>
/// <param name="Part">The part, counted from 1, so at least 2.</param>
/// <param name="Under">The key it stands under: answers, observations, help or notes.</param>
/// <param name="Before">Why it was not tried before; null where the first part says nothing of it.</param>
public sealed record LaterEntry(int Part, string Under, string Key, string? Before);
