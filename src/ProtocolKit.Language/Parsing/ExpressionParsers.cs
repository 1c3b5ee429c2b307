using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using Superpower.Model;
using Superpower.Parsers;
using static ProtocolKit.Language.Parsing.Basic;

namespace ProtocolKit.Language.Parsing;

/// <summary>Values and conditions, in the usual order of strength.</summary>
internal static class ExpressionParsers
{
    private static readonly TokenListParser<TokenKind, ExpressionNode> Later = Parse.Ref(() => Value!);
    private static readonly TokenListParser<TokenKind, ConditionNode> LaterCondition = Parse.Ref(() =>
        Condition!
    );

    private static readonly TokenListParser<TokenKind, ListNode> Bracketed =
        from open in One(TokenKind.OpenBracket)
        from items in Later.ByCommas()
        from close in One(TokenKind.CloseBracket)
        select (ListNode)new ItemsNode(items, open.Place().To(close.Place()));

    private static readonly TokenListParser<TokenKind, ListNode> SideOf =
        from side in Keyword("side")
        from of in Keyword("of")
        from task in Name
        select (ListNode)new EverySideNode(task, side.Place.To(task.Place));

    private static readonly TokenListParser<TokenKind, ListNode> TaskIn =
        from task in Keyword("task")
        from i in Keyword("in")
        from section in Name
        select (ListNode)new EveryTaskNode(null, section, task.Place.To(section.Place));

    private static readonly TokenListParser<TokenKind, ListNode> EverySide =
        from every in Keyword("every")
        from list in SideOf.Or(TaskIn)
        select list with
        {
            Place = every.Place.To(list.Place),
        };

    private static readonly TokenListParser<TokenKind, ListNode> EveryTask =
        from response in Name
        from rest in Keyword("of")
            .IgnoreThen(Keyword("every"))
            .IgnoreThen(Keyword("task"))
            .IgnoreThen(Keyword("in"))
            .IgnoreThen(Name)
            .Select(s => (Word?)s)
            .OptionalOrDefault()
        select rest is null
            ? (ListNode)new ItemsNode([new NameNode(response.Text, response.Place)], response.Place)
            : new EveryTaskNode(response, rest, response.Place.To(rest.Place));

    private static readonly TokenListParser<TokenKind, ListNode> List = Bracketed.Or(EverySide).Or(EveryTask);

    private static readonly TokenListParser<TokenKind, ExpressionNode> AddUp =
        from add in Keyword("add")
        from up in Keyword("up")
        from list in List
        select (ExpressionNode)new AggregateNode(Aggregate.Sum, list, add.Place.To(list.Place));

    private static readonly TokenListParser<TokenKind, ExpressionNode> If =
        from start in Keyword("if")
        from condition in LaterCondition
        from then in Keyword("then")
        from yes in Later
        from otherwise in Keyword("otherwise")
        from no in Later
        select (ExpressionNode)new IfNode(condition, yes, no, start.Place.To(no.Place));

    /// <summary>A unit whose slashes touch it on both sides; a slash between spaces divides.</summary>
    private static readonly TokenListParser<TokenKind, UnitValue> TightUnit =
        from above in UnitAtom
        from below in When(IsTightSlash, One(TokenKind.Slash).IgnoreThen(UnitAtom)).Many()
        select new UnitValue(above, [.. below.SelectMany(b => b)]);

    private static readonly TokenListParser<TokenKind, ExpressionNode> NumberLiteral =
        from number in Literal
        from unit in When(IsUnit, TightUnit).Select(u => (UnitValue?)u).OptionalOrDefault()
        select (ExpressionNode)
            new NumberNode(
                number.Number!.Value,
                unit,
                unit is null ? number.Place : number.Place.To(unit.Place)
            );

    private static readonly TokenListParser<TokenKind, ExpressionNode> Group =
        from open in One(TokenKind.OpenBracket)
        from inner in Later
        from close in One(TokenKind.CloseBracket)
        select inner;

    private static readonly TokenListParser<TokenKind, ExpressionNode> Negated =
        from minus in One(TokenKind.Minus)
        from inner in Parse.Ref(() => Factor!)
        select (ExpressionNode)new NegateNode(inner, minus.Place().To(inner.Place));

    private static readonly TokenListParser<TokenKind, ExpressionNode> NamedValue = Name.Select(n =>
            (ExpressionNode)new NameNode(n.Text, n.Place)
        )
        .Named("a task, measure or score");

    private static readonly TokenListParser<TokenKind, ExpressionNode> Factor = When(
            Kinds(TokenKind.Number),
            NumberLiteral
        )
        .Or(When(Kinds(TokenKind.Minus, TokenKind.Number), NumberLiteral))
        .Or(Group)
        .Or(Negated)
        .Or(When(Words("add", "up"), AddUp))
        .Or(If)
        .Or(Call("least", true))
        .Or(Call("most", false))
        .Or(Ranked("best", Aggregate.Best))
        .Or(Ranked("worst", Aggregate.Worst))
        .Or(Ranked("highest", Aggregate.Highest))
        .Or(Ranked("lowest", Aggregate.Lowest))
        .Or(Ranked("mean", Aggregate.Mean))
        .Or(Ranked("median", Aggregate.Median))
        .Or(NamedValue)
        .Named("a value, such as a score, an answer or a number");

    private static readonly TokenListParser<TokenKind, ExpressionNode> Term = Parse.Chain(
        One(TokenKind.Times).Select(_ => Operator.Times).Or(One(TokenKind.Slash).Select(_ => Operator.Over)),
        Factor,
        (op, left, right) => new BinaryNode(op, left, right)
    );

    public static readonly TokenListParser<TokenKind, ExpressionNode> Value = Parse.Chain(
        One(TokenKind.Plus).Select(_ => Operator.Plus).Or(One(TokenKind.Minus).Select(_ => Operator.Minus)),
        Term,
        (op, left, right) => new BinaryNode(op, left, right)
    );

    private static readonly TokenListParser<TokenKind, Reach> ReachOf = Keyword("or")
        .IgnoreThen(
            Keyword("worse").Select(_ => Reach.OrWorse).Or(Keyword("better").Select(_ => Reach.OrBetter))
        )
        .Try()
        .OptionalOrDefault(Reach.Exactly);

    private static readonly TokenListParser<TokenKind, Word> StateWord = Keyword("undecided")
        .Or(Keyword("blocked"))
        .Or(Keyword("untried"))
        .Or(
            from n in Keyword("not")
            from a in Keyword("applicable").Or(Keyword("looked")).Or(Keyword("seen"))
            select new Word("not " + a.Text, n.Place.To(a.Place))
        );

    private static readonly TokenListParser<TokenKind, Complement> States =
        from first in StateWord
        from further in Keyword("or").IgnoreThen(StateWord).Try().Many()
        select new Complement([first, .. further], Reach.Exactly);

    private static readonly TokenListParser<TokenKind, Complement> WhatIs = States
        .Try()
        .Or(from word in Name from reach in ReachOf select new Complement([word], reach))
        .Named("a band, an option, undecided, blocked or not applicable");

    private static readonly TokenListParser<TokenKind, ConditionNode> AnyBand =
        from any in Keyword("any")
        from band in Keyword("band")
        from verb in Keyword("is")
        from what in WhatIs
        select (ConditionNode)new BandsNode(null, what, any.Place.To(what.Words[^1].Place));

    private static readonly TokenListParser<TokenKind, ConditionNode> CountBands =
        from count in Literal
        from or in Keyword("or")
        from more in Keyword("more")
        from bands in Keyword("bands")
        from verb in Keyword("are")
        from what in WhatIs
        select (ConditionNode)new BandsNode(count, what, count.Place.To(what.Words[^1].Place));

    private static readonly TokenListParser<TokenKind, ConditionNode> NoOther =
        from no in Keyword("no")
        from other in Keyword("other")
        from action in Keyword("action")
        from applies in Keyword("applies")
        select (ConditionNode)new NoOtherNode(no.Place.To(applies.Place));

    private static readonly TokenListParser<TokenKind, ConditionNode> Actions =
        from actions in Keyword("actions")
        from include in Keyword("include").Select(_ => true).Or(Keyword("exclude").Select(_ => false))
        from name in Name
        select (ConditionNode)new ActionsNode(include, name, actions.Place.To(name.Place));

    private static readonly TokenListParser<TokenKind, ConditionNode> Is =
        from subject in Name
        from verb in Keyword("is")
        from what in WhatIs
        select (ConditionNode)new IsNode(subject, what, subject.Place.To(what.Words[^1].Place));

    private static readonly TokenListParser<TokenKind, Word> SideWord = Keyword("left")
        .Or(Keyword("right"))
        .Or(Keyword("neither"))
        .Or(Keyword("undecided"))
        .Or(
            from n in Keyword("not")
            from a in Keyword("applicable")
            select new Word("not applicable", n.Place.To(a.Place))
        );

    private static readonly TokenListParser<TokenKind, ConditionNode> Weaker =
        from weaker in Keyword("weaker")
        from side in Keyword("side")
        from of in Keyword("of")
        from name in Name.Named("the name of a side difference")
        from verb in Keyword("is")
        from first in SideWord
        from further in Keyword("or").IgnoreThen(SideWord).Try().Many()
        select (ConditionNode)
            new WeakerNode(
                name,
                [first, .. further],
                weaker.Place.To((further.Length == 0 ? first : further[^1]).Place)
            );

    private static readonly TokenListParser<TokenKind, Comparison> Sign = One(TokenKind.Equals)
        .Select(_ => Comparison.Equal)
        .Or(One(TokenKind.NotEquals).Select(_ => Comparison.NotEqual))
        .Or(One(TokenKind.Less).Select(_ => Comparison.Less))
        .Or(One(TokenKind.AtMost).Select(_ => Comparison.AtMost))
        .Or(One(TokenKind.Greater).Select(_ => Comparison.Greater))
        .Or(One(TokenKind.AtLeast).Select(_ => Comparison.AtLeast))
        .Named("a comparison such as <=");

    private static readonly TokenListParser<TokenKind, ConditionNode> Compare =
        from left in Value
        from sign in Sign
        from right in Value
        select (ConditionNode)new CompareNode(sign, left, right);

    private static readonly TokenListParser<TokenKind, ConditionNode> Brackets =
        from open in One(TokenKind.OpenBracket)
        from inner in LaterCondition
        from close in One(TokenKind.CloseBracket)
        select (ConditionNode)new GroupNode(inner, open.Place().To(close.Place()));

    private static readonly TokenListParser<TokenKind, ConditionNode> Negation =
        from not in Keyword("not")
        from inner in Parse.Ref(() => Single!)
        select (ConditionNode)new NotNode(inner, not.Place.To(inner.Place));

    private static readonly TokenListParser<TokenKind, ConditionNode> Single = Negation
        .Or(AnyBand)
        .Or(NoOther)
        .Or(When(Words("actions"), Actions))
        .Or(When(Words("weaker", "side"), Weaker))
        .Or(When(IsCount, CountBands))
        .Or(When(IsState, Is))
        .Or(When(IsBracketedCondition, Brackets))
        .Or(Compare)
        .Named("a condition, such as any band is …, or a comparison");

    private static readonly TokenListParser<TokenKind, ConditionNode> And = Parse.Chain(
        Keyword("and"),
        Single,
        (_, left, right) => new AndNode(left, right)
    );

    public static readonly TokenListParser<TokenKind, ConditionNode> Condition = Parse.Chain(
        Keyword("or"),
        And,
        (_, left, right) => new OrNode(left, right)
    );

    private static bool IsCount(TokenList<TokenKind> input) => Begins(input, TokenKind.Number, "or");

    private static bool IsState(TokenList<TokenKind> input) => Begins(input, TokenKind.Name, "is");

    private static bool Begins(TokenList<TokenKind> input, TokenKind kind, string word)
    {
        var first = input.ConsumeToken();
        var second = first.HasValue ? first.Remainder.ConsumeToken() : first;
        return second.HasValue && first.Value.Kind == kind && second.Value.Is(word);
    }

    /// <summary>An opening bracket may hold a condition or a value: a sign or word of conditions before its end decides.</summary>
    private static bool IsBracketedCondition(TokenList<TokenKind> input)
    {
        var depth = 0;
        var asking = 0;
        foreach (var token in input)
        {
            // Between if and then a value asks a question of its own.
            asking +=
                token.Is("if") ? 1
                : token.Is("then") ? -1
                : 0;
            depth += token.Kind switch
            {
                TokenKind.OpenBracket => 1,
                TokenKind.CloseBracket => -1,
                _ => 0,
            };
            if (depth == 0)
            {
                return false;
            }

            if (asking == 0 && SaysCondition(token))
            {
                return true;
            }
        }

        return false;
    }

    private static bool SaysCondition(Token<TokenKind> token) =>
        token.Kind
            is TokenKind.Equals
                or TokenKind.NotEquals
                or TokenKind.Less
                or TokenKind.AtMost
                or TokenKind.Greater
                or TokenKind.AtLeast
        || (token.Kind == TokenKind.Name && IsConditionWord(token.ToStringValue()));

    private static bool IsConditionWord(string word) =>
        word is "is" or "are" or "and" or "or" or "not" or "include" or "exclude" or "applies";

    /// <summary>Words that may follow a number and are not its unit.</summary>
    private static bool IsUnit(TokenList<TokenKind> input) =>
        input.ConsumeToken() is { HasValue: true, Value.Kind: TokenKind.Name } next
        && !IsReserved(next.Value.ToStringValue());

    private static bool IsTightSlash(TokenList<TokenKind> input)
    {
        var slash = input.ConsumeToken();
        var after = slash.HasValue ? slash.Remainder.ConsumeToken() : slash;
        if (!after.HasValue || slash.Value.Kind != TokenKind.Slash)
        {
            return false;
        }

        var at = slash.Value.Span.Position.Absolute;
        return after.Value.Span.Position.Absolute == at + 1
            && at > 0
            && !char.IsWhiteSpace(slash.Value.Span.Source![at - 1]);
    }

    private static bool IsReserved(string word) =>
        word is "to" or "and" or "or" or "then" or "otherwise" or "when" or "is" or "are" or "of";

    private static TokenListParser<TokenKind, ExpressionNode> Call(string word, bool isLeast)
    {
        var (isWord, isCall) = (Words(word), Kinds(TokenKind.Name, TokenKind.OpenBracket));
        return When(input => isWord(input) && isCall(input), CallOf(word, isLeast));
    }

    private static TokenListParser<TokenKind, ExpressionNode> CallOf(string word, bool isLeast) =>
        from name in Keyword(word)
        from open in One(TokenKind.OpenBracket)
        from first in Later
        from comma in Comma
        from second in Later
        from close in One(TokenKind.CloseBracket)
        select (ExpressionNode)new CallNode(isLeast, first, second, name.Place.To(close.Place()));

    /// <summary><c>best of LIST</c>, and <c>best side of TASK</c>.</summary>
    private static TokenListParser<TokenKind, ExpressionNode> Ranked(string word, Aggregate kind) =>
        When(Words(word, "of"), RankedOf(word, kind)).Or(When(Words(word, "side"), RankedOf(word, kind)));

    private static TokenListParser<TokenKind, ExpressionNode> RankedOf(string word, Aggregate kind) =>
        from name in Keyword(word)
        from list in Keyword("of").IgnoreThen(List).Or(SideOf)
        select (ExpressionNode)new AggregateNode(kind, list, name.Place.To(list.Place));
}
