using ProtocolKit.Model;

namespace ProtocolKit.Language.Tree;

internal abstract record ExpressionNode(Place Place);

internal sealed record NumberNode(Rational Value, UnitValue? Unit, Place Place) : ExpressionNode(Place);

internal sealed record NameNode(string Name, Place Place) : ExpressionNode(Place);

internal enum Operator
{
    Plus,
    Minus,
    Times,
    Over,
}

internal sealed record BinaryNode(Operator Operator, ExpressionNode Left, ExpressionNode Right)
    : ExpressionNode(Left.Place.To(Right.Place));

internal sealed record NegateNode(ExpressionNode Inner, Place Place) : ExpressionNode(Place);

/// <summary><c>least</c> and <c>most</c> of two.</summary>
internal sealed record CallNode(bool IsLeast, ExpressionNode First, ExpressionNode Second, Place Place)
    : ExpressionNode(Place);

internal enum Aggregate
{
    Sum,
    Mean,
    Median,
    Best,
    Worst,
    Highest,
    Lowest,
}

internal sealed record AggregateNode(Aggregate Kind, ListNode List, Place Place) : ExpressionNode(Place);

internal sealed record IfNode(ConditionNode If, ExpressionNode Then, ExpressionNode Otherwise, Place Place)
    : ExpressionNode(Place);

/// <summary>What an aggregate runs over.</summary>
internal abstract record ListNode(Place Place);

internal sealed record ItemsNode(IReadOnlyList<ExpressionNode> Items, Place Place) : ListNode(Place);

/// <summary><c>rate of every task in tongue</c>; without a response, each task's only one.</summary>
internal sealed record EveryTaskNode(Word? Response, Word Section, Place Place) : ListNode(Place);

internal sealed record EverySideNode(Word Task, Place Place) : ListNode(Place);

internal abstract record ConditionNode(Place Place);

internal enum Comparison
{
    Equal,
    NotEqual,
    Less,
    AtMost,
    Greater,
    AtLeast,
}

internal sealed record CompareNode(Comparison How, ExpressionNode Left, ExpressionNode Right)
    : ConditionNode(Left.Place.To(Right.Place));

internal enum Reach
{
    Exactly,
    OrWorse,
    OrBetter,
}

/// <summary>What stands after <c>is</c> or <c>are</c>: bands, states or an option, as written.</summary>
internal sealed record Complement(IReadOnlyList<Word> Words, Reach Reach);

internal sealed record IsNode(Word Subject, Complement What, Place Place) : ConditionNode(Place);

/// <summary><c>weaker side of tongue-sides is left or right</c>.</summary>
internal sealed record WeakerNode(Word Name, IReadOnlyList<Word> Sides, Place Place) : ConditionNode(Place);

/// <summary><c>any band is …</c> (one or more) or <c>2 or more bands are …</c>.</summary>
internal sealed record BandsNode(NumberValue? AtLeast, Complement What, Place Place) : ConditionNode(Place);

internal sealed record NoOtherNode(Place Place) : ConditionNode(Place);

internal sealed record ActionsNode(bool Include, Word Action, Place Place) : ConditionNode(Place);

internal sealed record AndNode(ConditionNode Left, ConditionNode Right)
    : ConditionNode(Left.Place.To(Right.Place));

internal sealed record OrNode(ConditionNode Left, ConditionNode Right)
    : ConditionNode(Left.Place.To(Right.Place));

internal sealed record NotNode(ConditionNode Inner, Place Place) : ConditionNode(Place);

/// <summary>Brackets matter: <c>and</c> and <c>or</c> together need them.</summary>
internal sealed record GroupNode(ConditionNode Inner, Place Place) : ConditionNode(Place);
