using ProtocolKit.Model;

namespace ProtocolKit.Language.Tree;

/// <summary>One line with what is indented under it.</summary>
internal abstract record Statement
{
    public Place Place { get; set; }
    public SourceText Source { get; set; } = null!;

    /// <summary>Where its line stands.</summary>
    public (SourceText Source, Place Place) At => (Source, Place);

    /// <summary>The line as its author wrote it, without indentation and comment.</summary>
    public string Written { get; set; } = "";

    /// <summary>
    /// A line under it, or one that may belong under it, could not be read: nothing may be concluded from what is missing.
    /// </summary>
    public bool Incomplete { get; set; }
}

internal sealed record LanguageLine(NumberValue Version) : Statement;

internal sealed record ProtocolHeader(Word Name) : Statement
{
    public List<Statement> Body { get; } = [];
}

internal sealed record ModuleHeader(Word Name) : Statement
{
    public List<Statement> Body { get; } = [];
}

/// <summary>A line of the header that holds one text: title, purpose, examiner, reference.</summary>
internal sealed record HeaderText(string Keyword, TextValue Text) : Statement;

/// <param name="What">What it brought, where stated.</param>
internal sealed record EditionLine(string Edition, TextValue? What) : Statement;

/// <summary><c>earlier edition 1.0 "…"</c>: may stand several times.</summary>
internal sealed record EarlierEditionLine(string Edition, Place Number, TextValue What) : Statement;

internal sealed record AgesLine(AgeSpan Ages) : Statement;

/// <summary><c>ages corrected for prematurity until 2;0</c>.</summary>
internal sealed record CorrectedAgesLine(AgeValue Until) : Statement;

internal sealed record TranslationsLine(IReadOnlyList<Word> Languages) : Statement;

internal sealed record SittingLine(NumberSpan Minutes) : Statement;

internal sealed record ShortFormLine(NumberValue Minutes) : Statement;

internal sealed record SpokenLine(Word Language) : Statement;

internal sealed record UseLine(Word Module) : Statement;

internal sealed record MaterialLine(Word Name, TextValue Text, TextValue? Amount) : Statement;

internal sealed record CautionBlock(Word Name, TextValue Text) : Statement
{
    public List<CoverLine> Covers { get; } = [];
}

/// <summary><c>for contact …</c> or <c>for material …</c>.</summary>
internal sealed record CoverLine(bool IsContact, IReadOnlyList<Word> Names) : Statement;

internal sealed record ScaleBlock(Word Name, Word Better) : Statement
{
    public List<LevelLine> Levels { get; } = [];
}

internal sealed record LevelLine(NumberValue Points, TextValue Text, TextValue? Example) : Statement;

internal sealed record ObservationLine(Word Name, TextValue Text, bool Qualitative) : Statement;

internal sealed record BandLineStatement(Word Name, TextValue Text) : Statement;

internal sealed record Parameter(Word Name, Argument? Default);

internal sealed record FamilyBlock(Word Name, IReadOnlyList<Parameter> Parameters) : Statement
{
    public List<Statement> Body { get; } = [];
}

internal sealed record SectionBlock(Word Name, TextValue Title, bool Qualitative) : Statement
{
    /// <summary>Tasks, measures and introductions.</summary>
    public List<Statement> Body { get; } = [];
}

internal sealed record IntroductionLine(TextValue Text) : Statement;

internal sealed record FamilyUse(Word Family, IReadOnlyList<Argument> Arguments);

internal sealed record EachMember(Word Name, TextValue? Text);

internal sealed record EachClause(Word Kind, IReadOnlyList<EachMember> Members);

internal sealed record TaskBlock(
    Word Name,
    TextValue? Title,
    FamilyUse? Use,
    bool ShortForm,
    EachClause? Each
) : Statement
{
    public List<Statement> Body { get; } = [];
}

internal sealed record GivingOrderBlock(bool ByContact) : Statement
{
    public List<NameListLine> Lines { get; } = [];
}

internal sealed record NameListLine(IReadOnlyList<Word> Names) : Statement;

/// <summary>A statement that could not be read; kept so that what is indented under it still is.</summary>
/// <param name="Word">Its first word, the spelling put right; empty where nobody can know.</param>
/// <param name="Names">Names it may have declared, so that their uses are not reported as well.</param>
internal sealed record BrokenStatement(string Word, IReadOnlyList<string> Names) : Statement
{
    public List<Statement> Body { get; } = [];
}
