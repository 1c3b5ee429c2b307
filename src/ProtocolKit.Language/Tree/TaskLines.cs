using ProtocolKit.Model;

namespace ProtocolKit.Language.Tree;

internal enum TextLineKind
{
    Say,
    Show,
    Go,
    Practice,
    Repeat,
    StopWhen,
    Note,
}

internal sealed record TextLine(TextLineKind Kind, TextValue Text) : Statement;

internal sealed record ContactLine(Word Contact) : Statement;

internal sealed record NeedsLine(IReadOnlyList<Word> Materials) : Statement;

internal sealed record HoldLine(NumberValue Number, Word Unit) : Statement;

/// <param name="UpTo">Later trials only while <see cref="Second"/> holds.</param>
internal sealed record TrialsLine(NumberValue Count, bool UpTo, SecondTrial? Second, KeepClause? Keep)
    : Statement
{
    /// <summary>True where it states more than one way to keep a trial or to give a second one.</summary>
    public bool SaysTwice { get; init; }

    /// <summary>What a mean or median of the trials is rounded to.</summary>
    public NumberValue? Step { get; init; }
}

internal sealed record SecondTrial(Word Response, NumberValue Below);

internal sealed record KeepClause(Word How, Word? By)
{
    public bool OfThoseGiven { get; init; }

    /// <summary>A mean, median or sum over the trials instead of one of them.</summary>
    public bool IsCombined => How.Text is "mean" or "median" or "sum";
    public Place Place => By is null ? How.Place : How.Place.To(By.Place);
}

/// <summary>Any line that asks for an answer.</summary>
internal sealed record ResponseLine(ResponseKind Kind, Word? Name, Word Keyword) : Statement
{
    public Word? Scale { get; init; }
    public NumberSpan? Range { get; init; }
    public UnitValue? Unit { get; init; }
    public NumberValue? Step { get; init; }
    public TextValue? Question { get; init; }
    public IReadOnlyList<ResponseClause> Clauses { get; init; } = [];
    public List<OptionLine> Options { get; } = [];
}

internal abstract record ResponseClause(Place Place);

internal sealed record PlausibleClause(NumberSpan Range, Place Place) : ResponseClause(Place);

internal sealed record SpansClause(Word What, Place Place) : ResponseClause(Place);

internal sealed record BetterClause(Word Which, Place Place) : ResponseClause(Place);

internal sealed record UnitClause(UnitValue Unit, Place Place) : ResponseClause(Place);

internal sealed record WeakSideClause(Word Which, Place Place) : ResponseClause(Place);

internal sealed record QualitativeClause(Place Place) : ResponseClause(Place);

internal sealed record OptionLine(Word Name, TextValue Text) : Statement;

internal sealed record TickLine(IReadOnlyList<Word> Observations, bool Qualitative) : Statement;

internal sealed record HelpLine(IReadOnlyList<HelpRungValue> Rungs) : Statement;

internal sealed record HelpRungValue(string Text, Word? Contact, Place Place)
{
    public NumberValue? Cost { get; init; }
    public bool IsStart { get; init; }
}

/// <summary><c>senses touch</c></summary>
internal sealed record SensesLine : Statement;
