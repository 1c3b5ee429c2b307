namespace ProtocolKit.Language.Tree;

/// <summary><c>translation quillmere-screen to de</c>.</summary>
internal sealed record TranslationHeader(Word Protocol, Word Language) : Statement
{
    public List<Statement> Lines { get; } = [];
}

internal sealed record StatusLine(bool Reviewed, TextValue Text) : Statement;

/// <summary>What shows that the cut-offs hold in this language.</summary>
internal sealed record CutOffsShownLine(TextValue Text) : Statement;

/// <summary>A text of the protocol, word for word, and what it becomes.</summary>
/// <param name="Task">Where it becomes something else than elsewhere.</param>
internal sealed record TextEntry(TextValue Original, Word? Task) : Statement
{
    public List<BecomesLine> Becomes { get; } = [];
}

internal sealed record BecomesLine(TextValue Text) : Statement;
