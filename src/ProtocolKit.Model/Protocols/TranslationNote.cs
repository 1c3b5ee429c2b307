namespace ProtocolKit.Model;

/// <summary>Where the words of a translated form come from, and whether its cut-offs have been shown to hold.</summary>
/// <param name="From">The language it was translated from.</param>
/// <param name="Status">Who reviewed it and how, or that nobody did, as written.</param>
/// <param name="IsReviewed">False where nobody reviewed it.</param>
/// <param name="Shown">What shows that the cut-offs hold in this language; null: they are provisional.</param>
public sealed record TranslationNote(string From, string Status, bool IsReviewed, string? Shown);
