using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>What may be asked for by name when a record is read.</summary>
public sealed record RecordOptions
{
    /// <summary>
    /// Fingerprints of other forms whose records are taken; a remark says so. A record of any other form is refused.
    /// </summary>
    public IReadOnlyCollection<string> AcceptForms { get; init; } = [];

    /// <summary>The same for other ways of giving the form.</summary>
    public IReadOnlyCollection<string> AcceptAdministrations { get; init; } = [];

    /// <summary>Other editions whose records are taken where fingerprints don't settle it.</summary>
    public IReadOnlyCollection<string> AcceptEditions { get; init; } = [];
}

/// <summary>A record as read, or everything that is wrong with it.</summary>
/// <param name="Record">Present exactly when there are no problems.</param>
/// <param name="Problems">In the order of the text; all of them, never only the first.</param>
public sealed record RecordReading(SittingRecord? Record, IReadOnlyList<RecordProblem> Problems);

/// <summary>Something that refuses a record.</summary>
/// <param name="Origin">File as given by the caller, line and column from 1.</param>
/// <param name="Key">The key it stands under, such as <c>case</c> or <c>answers</c>; empty for the text as a whole.</param>
/// <param name="Message">What is wrong, as a sentence.</param>
/// <param name="Mend">What to do about it, as a sentence.</param>
public sealed record RecordProblem(Origin Origin, string Key, string Message, string Mend)
{
    public override string ToString() => $"{Origin}: {Message} {Mend}";
}
