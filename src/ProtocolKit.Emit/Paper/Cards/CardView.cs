namespace ProtocolKit.Emit.Paper.Cards;

/// <summary>What the templates of the cue cards see.</summary>
/// <param name="Language">Of the texts, as HTML wants it: <c>en</c>.</param>
/// <param name="Title">The protocol’s title.</param>
/// <param name="Edition">As the protocol gives it.</param>
/// <param name="Form">Which form it is.</param>
/// <param name="FormFingerprint">In groups of four.</param>
/// <param name="Sizes">Sizes of the cards.</param>
/// <param name="Pages">Fronts and backs in turn.</param>
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
/// <param name="Places">Four cards, row by row; a place may be empty.</param>
public sealed record CardPageView(bool IsFront, IReadOnlyList<CardSideView?> Places);

/// <summary>One side of one card.</summary>
/// <param name="Name">Of the task, for tests and links.</param>
/// <param name="IsFront">Else it is a back.</param>
/// <param name="Number">Of the task; empty on general cards.</param>
/// <param name="Title">Of the task or card.</param>
/// <param name="Part">Such as <c>2 of 3</c>; empty when the task has one card.</param>
/// <param name="Contact">Empty on cards that belong to no task.</param>
/// <param name="Touches">The task touches the face or the mouth.</param>
/// <param name="Blocks">What is printed on it, in order.</param>
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

/// <param name="Kind">How it is set.</param>
/// <param name="Mark">Before a hanging text: points of a level, number of a rung; the label of a line.</param>
/// <param name="Text">What it says.</param>
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
