namespace ProtocolKit.Language.Diagnostics;

public enum Severity
{
    Error,
    Warning,
    Note,
}

/// <summary>The step at which a mistake is found; the first digit of its code.</summary>
public enum Stage
{
    Text = 1,
    Line = 2,
    Name = 3,
    Meaning = 4,
    Care = 5,

    /// <summary>What holds for every record; found once the text has no errors.</summary>
    Proof = 6,
}

/// <summary>
/// One entry of the catalogue: what <c>explain</c> prints. <see cref="Wrong"/> and <see cref="Right"/> are
/// protocols, or fragments under the reference's prelude; a test compiles both.
/// </summary>
/// <param name="Code">Two letters and four digits, never reused.</param>
public sealed record Descriptor(
    string Code,
    Severity Severity,
    string Title,
    string Explanation,
    string Wrong,
    string Right
)
{
    public Stage Stage => (Stage)(Code[2] - '0');
}

/// <summary>What is said about one place: an entry of the catalogue with this case's words.</summary>
/// <param name="Fix">What to write instead, in words; null where only the author can know.</param>
/// <param name="Edit">The text to put at the place, where the fix is that simple.</param>
public sealed record Message(Descriptor Descriptor, string Text, string? Fix = null, string? Edit = null)
{
    /// <summary>Where <see cref="Edit"/> is to be put, where that isn't the place that is shown.</summary>
    public Place? EditAt { get; init; }

    /// <summary>Lines that show it, such as a sitting told; empty for most.</summary>
    public IReadOnlyList<string> Details { get; init; } = [];
}

/// <summary>A second place that belongs to a diagnostic, such as the first use of a name.</summary>
public sealed record Related(SourceText Source, Place Place, string Text);

public sealed record Diagnostic(
    SourceText Source,
    Place Place,
    Message Message,
    IReadOnlyList<Related> Related
)
{
    public string Code => Message.Descriptor.Code;
    public Severity Severity => Message.Descriptor.Severity;

    /// <summary>What mends it in one step, for editors and build servers; null where only the author can know.</summary>
    public QuickEdit? Edit => Message.Edit is { } text ? new QuickEdit(Message.EditAt ?? Place, text) : null;
}
