namespace ProtocolKit.Model;

/// <summary>
/// What the family reads: paragraphs in plain words, strengths first. The child's name may stand in them, so a letter is printed
/// and kept nowhere; scores, bands and what is for the team can't be in it.
/// </summary>
/// <param name="Own">The author's wording of the sentences every letter ends with, by the name of its passage; ours where one is missing.</param>
public sealed record CaregiverLetter(
    Protocol Protocol,
    string Case,
    IReadOnlyList<string> Paragraphs,
    IReadOnlyDictionary<string, string> Own
);

/// <summary>The names of the passages that take the place of a sentence of ours at the foot of a letter.</summary>
public static class LetterSentences
{
    public const string Limits = "family-limits";
    public const string Speech = "family-speech";
    public const string Languages = "family-languages";
    public const string Call = "family-call";
    public const string Sign = "family-sign";

    public static IReadOnlyList<string> All { get; } = [Limits, Speech, Languages, Call, Sign];
}
