namespace ProtocolKit.Emit;

/// <summary>A file to be written: its name beside the others and its text, with <c>\n</c> line ends.</summary>
/// <param name="FileName">Relative, with forward slashes, such as <c>record-sheet.html</c>.</param>
/// <param name="IsPrintable">A page made for paper, of which a PDF may be printed too.</param>
public sealed record Artefact(string FileName, string Text, bool IsPrintable = false)
{
    /// <summary>The content of a file that is no text; <see cref="Text"/> is empty then.</summary>
    public byte[]? Bytes { get; init; }

    /// <summary>
    /// The headings its contents list, in order: once printed, their page numbers take the places of the contents' marks.
    /// </summary>
    public IReadOnlyList<string> Contents { get; init; } = [];

    /// <summary>A few words for the list of files; null: those of its output.</summary>
    public string? Purpose { get; init; }
}
