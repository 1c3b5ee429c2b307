namespace ProtocolKit.Model;

/// <summary>The words of a record, level by level. The emitted schema and the writer use the same ones.</summary>
public static class RecordKeys
{
    public const string Protocol = "protocol";
    public const string Edition = "edition";
    public const string Fingerprints = "fingerprints";
    public const string Case = "case";
    public const string AgeMonths = "age-months";
    public const string Born = "born";
    public const string GestationWeeks = "gestation-weeks";
    public const string CorrectedAgeMonths = "corrected-age-months";
    public const string Parts = "parts";
    public const string Form = "form";
    public const string Rater = "rater";
    public const string AgreedFrom = "agreed-from";
    public const string Digest = "digest";
    public const string Code = "code";
    public const string Role = "role";
    public const string TrainedUntil = "trained-until";
    public const string Rated = "rated";
    public const string Live = "live";
    public const string Recorded = "recorded";
    public const string Blind = "blind";

    /// <summary>In a correction: the record has no such line.</summary>
    public const string Absent = "absent";
    public const string Answers = "answers";
    public const string Help = "help";
    public const string Observations = "observations";
    public const string Events = "events";
    public const string Consents = "consents";
    public const string History = "history";
    public const string Overrides = "overrides";
    public const string Corrections = "corrections";
    public const string Notes = "notes";
    public const string TaskSeconds = "task-seconds";
    public const string Seen = "seen";
    public const string Looked = "looked";
    public const string Full = "full";
    public const string Short = "short";
    public const string Yes = "yes";
    public const string No = "no";

    /// <summary>No task takes longer than an hour; common practice, no source.</summary>
    public const int MostTaskSeconds = 3600;

    /// <summary>In the order in which a record is written.</summary>
    public static IReadOnlyList<string> Top { get; } =
    [
        Protocol,
        Edition,
        Fingerprints,
        Case,
        AgeMonths,
        Born,
        GestationWeeks,
        CorrectedAgeMonths,
        Parts,
        Form,
        Rater,
        AgreedFrom,
        Consents,
        History,
        Answers,
        Help,
        Observations,
        Events,
        Notes,
        TaskSeconds,
        Overrides,
        Corrections,
    ];

    public static IReadOnlyList<string> OfFingerprints { get; } =
    ["form", "administration", "interpretation"];

    /// <summary>What a later part may bring, besides its day.</summary>
    public static IReadOnlyList<string> Finished { get; } = [Answers, Help, Observations, Notes];

    public static IReadOnlyList<string> OfPart { get; } = [Seen, .. Finished];

    public static IReadOnlyList<string> OfRater { get; } = [Code, Role, TrainedUntil, Rated, Blind];

    public static IReadOnlyList<string> OfOriginal { get; } = [Rater, Digest];

    public static IReadOnlyList<string> OfOverride { get; } = ["action", "reason", "role"];

    public static IReadOnlyList<string> OfCorrection { get; } = ["who", "when", "why", "old", "new", "key"];

    /// <summary>In an event: tasks given before it, out of the giving order.</summary>
    public const string GivenBefore = "given-before";

    public static IReadOnlyList<string> OfEvent { get; } =
    ["what", "task", GivenBefore, "touched", "recovered", "done"];
}
