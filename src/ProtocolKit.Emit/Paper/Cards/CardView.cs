namespace ProtocolKit.Emit.Paper.Cards;

/// <summary>What the templates of the cue cards see.</summary>
public sealed record CardsView(
    string Language,
    string Title,
    string Edition,
    string Form,
    string FormFingerprint,
    CardMetricsView Sizes,
    IReadOnlyList<CardPageView> Pages
);

/// <summary>One side of a sheet of paper with its four places, row by row; a place may stay empty.</summary>
/// <param name="IsFront">Fronts carry the lines along which the sheet is cut.</param>
public sealed record CardPageView(bool IsFront, IReadOnlyList<CardSideView?> Places);

/// <summary>One side of one card.</summary>
/// <param name="Part">Such as <c>2 of 3</c>; empty when the task has one card.</param>
/// <param name="Contact">Empty on cards that belong to no task.</param>
public sealed record CardSideView(
    string Name,
    bool IsFront,
    string Number,
    string Title,
    string Part,
    string Contact,
    bool Touches,
    IReadOnlyList<CardBlock> Blocks
);

/// <param name="Mark">Before a hanging text: points of a level, number of a rung; the label of a line.</param>
public sealed record CardBlock(CardBlockKind Kind, string Mark, string Text);

public enum CardBlockKind
{
    /// <summary>Spoken word for word, in the largest type.</summary>
    Say,

    /// <summary>A label and a text.</summary>
    Line,

    /// <summary>Begins a list; stays with its first item.</summary>
    Heading,

    /// <summary>A mark and a hanging text.</summary>
    Item,
}
