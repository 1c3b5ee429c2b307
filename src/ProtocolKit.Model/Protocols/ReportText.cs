namespace ProtocolKit.Model;

/// <summary>Who may read a text, from the widest to the narrowest.</summary>
public enum Audience
{
    /// <summary>The family, and so everybody.</summary>
    Caregiver,

    /// <summary>The team, and whom the team gives its note to.</summary>
    Team,

    /// <summary>The team alone: it never leaves the house.</summary>
    TeamOnly,
}

public enum ReportKind
{
    /// <summary>Goes to the family.</summary>
    Letter,

    /// <summary>Goes into the team's file.</summary>
    Note,

    /// <summary>A text with a name, taken into letters and notes.</summary>
    Piece,
}

/// <summary>A text of a report. Its placeholders have been checked, its pieces put in.</summary>
/// <param name="Name">Of a piece; empty for letters and notes.</param>
/// <param name="Paragraphs">As written, placeholders and passages in braces.</param>
public sealed record ReportText(
    ReportKind Kind,
    string Name,
    Audience Audience,
    IReadOnlyList<WrittenParagraph> Paragraphs,
    Origin Origin
)
{
    /// <summary>The same paragraphs taken apart, passages put in.</summary>
    public IReadOnlyList<ReportParagraph> Parts { get; init; } = [];
}

/// <param name="Audience">Who may read it, at least as narrow a circle as that of the whole text.</param>
public sealed record WrittenParagraph(Audience Audience, string Text);

/// <param name="Audience">Who may read it: a note's paragraph may be for the team alone.</param>
public sealed record ReportParagraph(Audience Audience, IReadOnlyList<TextPart> Parts);

/// <summary>A piece of plain text, or a placeholder with what stands in where it is missing.</summary>
/// <param name="Text">The plain text, or the placeholder's name without braces.</param>
/// <param name="Otherwise">What is written where the placeholder has no value; null: nothing.</param>
public sealed record TextPart(bool IsPlaceholder, string Text, string? Otherwise);

/// <summary>What a placeholder stands for, and whether it may be missing from a record.</summary>
public sealed record Placeholder(string Name, bool MayBeMissing, bool InLetters);

/// <summary>All placeholders of letters and notes.</summary>
public static class Placeholders
{
    public static IReadOnlyList<Placeholder> All { get; } =
    [
        new("child", true, true),
        new("case", false, true),
        new("seen", false, true),
        new("age", false, true),
        new("examiner", true, true),
        new("title", false, true),
        new("edition", false, true),
        new("actions in words", true, true),
        new("scores in words", true, false),
        new("untried in words", true, true),
        new("strengths in words", true, true),
        new("done in words", true, true),
        new("harder in words", true, true),
    ];

    public static Placeholder? Find(string name) => All.FirstOrDefault(p => p.Name == name);
}
