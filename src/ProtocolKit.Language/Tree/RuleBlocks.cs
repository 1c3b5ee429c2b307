using ProtocolKit.Model;

namespace ProtocolKit.Language.Tree;

/// <summary>A measure or a score with its one value and its further lines.</summary>
internal sealed record OutcomeBlock(
    bool IsScore,
    Word Name,
    TextValue? Title,
    UnitValue? Unit,
    NumberValue? Step,
    ExpressionNode? InlineValue
) : Statement
{
    /// <summary>The formula as written on the header line, where it stands there.</summary>
    public string InlineWritten { get; set; } = "";
    public List<Statement> Body { get; } = [];

    /// <summary>A table the value is looked up in, in place of a formula.</summary>
    public LookupBody? Lookup { get; init; }

    /// <summary>Left minus right, in place of a formula.</summary>
    public SideBody? Sides { get; init; }
}

/// <summary>The lines of <c>side difference …</c>.</summary>
internal sealed record SideBody
{
    public List<SidedAnswersLine> Answers { get; } = [];
    public List<DirectionsLine> Directions { get; } = [];
    public List<AgreeLine> Agree { get; } = [];
}

/// <summary><c>rate of every sided task in tongue</c>, or <c>rate of tip-corner, cheek-bulge</c>.</summary>
internal sealed record SidedAnswersLine(Word Response, Word? Section, IReadOnlyList<Word> Tasks) : Statement;

/// <summary><c>also every direction in tongue</c>, or <c>also direction of tongue-out</c>.</summary>
internal sealed record DirectionsLine(Word? Section, IReadOnlyList<Word> Tasks) : Statement;

/// <summary><c>weaker side needs 2 tasks that agree</c>.</summary>
internal sealed record AgreeLine(NumberValue Tasks) : Statement;

/// <summary>The lines of <c>table … of …</c>: ages across, raw values down.</summary>
/// <param name="Of">The raw value.</param>
internal sealed record LookupBody(Word Of)
{
    public List<AgeSpan> Ages { get; } = [];
    public List<LookupRowLine> Rows { get; } = [];
    public List<BasisLine> Bases { get; } = [];
}

internal sealed record LookupRowLine(NumberSpan Raw, IReadOnlyList<LookupCellValue> Cells) : Statement;

/// <param name="Number">Null where the cell says <c>none</c>.</param>
internal sealed record LookupCellValue(NumberValue? Number, Place Place);

internal sealed record ValueLine(ExpressionNode Value) : Statement;

internal sealed record ClaimRangeLine(NumberSpan Range) : Statement;

internal sealed record UntriedBlocksLine : Statement;

internal sealed record UntriedScaledLine(NumberValue AtMost) : Statement;

internal sealed record HandTimingLine(NumberValue Error, Word Unit) : Statement;

internal sealed record CutOffsBlock(Word Outcome, bool ShortForm) : Statement
{
    public IReadOnlyList<Word> Bands { get; set; } = [];

    public List<CutOffRowLine> Rows { get; } = [];
    public List<BasisLine> Bases { get; } = [];
    public List<WorseOnPurposeLine> Worse { get; } = [];

    public bool HasBandsOf(CutOffsBlock other) =>
        Bands.Select(b => b.Text).SequenceEqual(other.Bands.Select(b => b.Text));
}

/// <param name="AlsoWithLeftOut">It holds although tasks were left out.</param>
internal sealed record CutOffRowLine(AgeSpan Ages, IReadOnlyList<CutOffCellValue> Cells, bool AlsoWithLeftOut)
    : Statement;

/// <param name="Range">Null where the cell says <c>none</c>.</param>
internal sealed record CutOffCellValue(NumberSpan? Range, Place Place);

internal sealed record BasisLine(Word Kind, TextValue Text, IReadOnlyList<BasisDetail> Details) : Statement;

internal sealed record BasisDetail(Word What, NumberValue? Number, TextValue? Text);

internal sealed record ActionsBlock : Statement
{
    public List<ActionLine> Actions { get; } = [];
}

internal sealed record ActionLine(
    Word Name,
    TextValue Title,
    string? Urgency,
    bool Finish,
    ConditionNode? InlineWhen
) : Statement
{
    public string InlineWritten { get; set; } = "";
    public List<WhenLine> Conditions { get; } = [];
    public List<WorseOnPurposeLine> Worse { get; } = [];
}

/// <summary><c>worse on purpose "why"</c>: why better answers may give a worse band, or a more severe action.</summary>
internal sealed record WorseOnPurposeLine(TextValue Reason) : Statement;

internal sealed record WhenLine(ConditionNode Condition) : Statement;

internal sealed record ClaimBlock(TextValue Text) : Statement
{
    public ClaimRule? Rule { get; set; }
}

internal sealed record ClaimRule(ConditionNode Premise, ConditionNode Conclusion) : Statement;

internal sealed record ReTestBlock(Word Outcome) : Statement
{
    public List<ErrorLine> Errors { get; } = [];
}

internal sealed record ErrorLine(NumberValue Error, TextValue Basis, IReadOnlyList<ErrorClause> Clauses)
    : Statement;

/// <summary>One of <c>n 40</c>, <c>interval 1.3 to 2.0</c>, <c>after 10 to 14 weeks</c>.</summary>
internal sealed record ErrorClause(Word What, NumberValue? Number, NumberSpan? Range, Word? Unit);

/// <summary>A letter, a note or a passage: texts for an audience.</summary>
/// <param name="Name">Of a passage.</param>
internal sealed record ReportTextBlock(Word Keyword, Word? Name, Word Audience) : Statement
{
    public List<TextOnlyLine> Paragraphs { get; } = [];
}

/// <param name="Audience">A paragraph's own, where it begins with one.</param>
internal sealed record TextOnlyLine(Word? Audience, TextValue Text) : Statement;

internal sealed record ReadinessBlock(TextValue Text) : Statement
{
    public List<Statement> Lines { get; } = [];
}

internal sealed record ReadinessRecordsLine(NumberValue Count) : Statement;

internal sealed record ReadinessAgainLine(NumberValue Months) : Statement;

internal sealed record ReadinessCheckLine(
    ReadinessKind Kind,
    Word? Of,
    NumberValue? Within,
    NumberValue Percent
) : Statement;

internal sealed record CaseHistoryBlock : Statement
{
    public List<AskLine> Questions { get; } = [];
}

internal sealed record AskLine(Word Name, TextValue Text, bool YesNo) : Statement
{
    public List<GateLine> Gates { get; } = [];
}

internal sealed record ConsentsBlock : Statement
{
    public List<ConsentLine> Consents { get; } = [];
}

internal sealed record ConsentLine(Word Name, TextValue Text) : Statement;
