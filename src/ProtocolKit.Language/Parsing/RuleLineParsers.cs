using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using Superpower.Parsers;
using static ProtocolKit.Language.Parsing.Basic;

namespace ProtocolKit.Language.Parsing;

/// <summary>Lines of measures, scores, cut-offs, actions, claims, case history and consents.</summary>
internal static class RuleLineParsers
{
    private static readonly TokenListParser<TokenKind, NumberValue?> StepOf = Comma
        .OptionalOrDefault()
        .IgnoreThen(Keyword("step"))
        .IgnoreThen(Literal)
        .Select(n => (NumberValue?)n)
        .Try()
        .OptionalOrDefault();

    private static readonly TokenListParser<TokenKind, string?> Urgency = Keyword("today")
        .Select(_ => (string?)"today")
        .Or(
            from within in Keyword("within")
            from number in Literal
            from unit in Name.Where(
                    u => u.Text is "day" or "days" or "week" or "weeks" or "month" or "months",
                    "write days, weeks or months"
                )
                .Named("days, weeks or months")
            select (string?)$"within {number.Number} {unit.Text}"
        )
        .OptionalOrDefault();

    private static readonly TokenListParser<TokenKind, ConditionNode> When = Keyword("when")
        .IgnoreThen(ExpressionParsers.Condition);

    private static readonly TokenListParser<TokenKind, ConditionNode?> InlineWhen = When.Select(c =>
            (ConditionNode?)c
        )
        .OptionalOrDefault();

    private static readonly TokenListParser<TokenKind, BasisDetail> Detail =
        from what in Name
        from value in Literal
            .Select(n => new BasisDetail(new Word("", default), n, null))
            .Or(Text.Select(t => new BasisDetail(new Word("", default), null, t)))
        select value with
        {
            What = what,
        };

    private static readonly TokenListParser<TokenKind, ClaimRule> Rule =
        from start in Keyword("when")
        from premise in ExpressionParsers.Condition
        from then in Keyword("then")
        from conclusion in ExpressionParsers.Condition
        select new ClaimRule(premise, conclusion);

    public static readonly TokenListParser<TokenKind, Statement> CutOffs =
        from start in First("cut-offs")
        from outcome in Name
        from shortForm in Flag(Keyword("short").IgnoreThen(Keyword("form")).Select(_ => true))
        select (Statement)new CutOffsBlock(outcome, shortForm);

    public static readonly TokenListParser<TokenKind, Statement> Claim =
        from start in First("claim")
        from text in Text
        from rule in Rule.Select(r => (ClaimRule?)r).OptionalOrDefault()
        select (Statement)new ClaimBlock(text) { Rule = rule };

    public static readonly TokenListParser<TokenKind, Statement> ClaimRuleLine = Rule.Select(r =>
        (Statement)r
    );

    public static readonly TokenListParser<TokenKind, Statement> Basis =
        from start in Keyword("basis")
        from kind in Keyword("provisional").Or(Keyword("published")).Or(Keyword("pilot"))
        from text in Text
        from details in Comma.IgnoreThen(Detail).Many()
        select (Statement)new BasisLine(kind, text, details);

    public static readonly TokenListParser<TokenKind, Statement> Action =
        from name in Name
        from title in Text
        from urgency in Urgency
        from finish in Flag(Keyword("finish").Select(_ => true))
        from condition in InlineWhen
        select (Statement)new ActionLine(name, title, urgency, finish, condition);

    public static readonly TokenListParser<TokenKind, Statement> WhenOnly = When.Select(c =>
        (Statement)new WhenLine(c)
    );

    public static readonly TokenListParser<TokenKind, Statement> WorseOnPurpose =
        from worse in Keyword("worse")
        from how in Keyword("on")
        from purpose in Keyword("purpose")
        from reason in Text
        select (Statement)new WorseOnPurposeLine(reason);

    public static readonly TokenListParser<TokenKind, Statement> Ask =
        from start in Keyword("ask")
        from name in Name
        from text in Text
        from yesNo in Flag(Keyword("yes-no").Select(_ => true))
        select (Statement)new AskLine(name, text, yesNo);

    public static readonly TokenListParser<TokenKind, Statement> Consent =
        from start in Keyword("consent")
        from name in Name
        from text in Text
        select (Statement)new ConsentLine(name, text);

    private static readonly TokenListParser<TokenKind, Statement> ScaledUp =
        from scaled in Keyword("scaled")
        from up in Keyword("up")
        from comma in Comma
        from at in Keyword("at")
        from most in Keyword("most")
        from count in Literal
        select (Statement)new UntriedScaledLine(count);

    /// <summary>The lines under a measure or score, by their first word or sign.</summary>
    public static readonly TokenListParser<TokenKind, Statement> Value = One(TokenKind.Equals)
        .OptionalOrDefault()
        .IgnoreThen(ExpressionParsers.Value)
        .Select(v => (Statement)new ValueLine(v));

    public static readonly Dictionary<string, TokenListParser<TokenKind, Statement>> OutcomeLines = new(
        StringComparer.Ordinal
    )
    {
        ["claim"] =
            from start in Keyword("claim")
            from range in Keyword("range")
            from span in RangeOf
            select (Statement)new ClaimRangeLine(span),
        ["untried"] = Keyword("untried")
            .IgnoreThen(Keyword("blocks").Select(_ => (Statement)new UntriedBlocksLine()).Or(ScaledUp)),
        ["hand"] =
            from hand in Keyword("hand")
            from timing in Keyword("timing")
            from within in Keyword("within")
            from error in Literal
            from unit in Name
            select (Statement)new HandTimingLine(error, unit),
    };

    public static TokenListParser<TokenKind, Statement> Outcome(string word) =>
        from start in First(word)
        from name in Name
        from title in Text.Select(t => (TextValue?)t).OptionalOrDefault()
        from unit in Keyword("in").IgnoreThen(UnitOf).Select(u => (UnitValue?)u).OptionalOrDefault()
        from step in StepOf
        from value in One(TokenKind.Equals)
            .IgnoreThen(ExpressionParsers.Value)
            .Select(v => (ExpressionNode?)v)
            .OptionalOrDefault()
        select (Statement)new OutcomeBlock(word == "score", name, title, unit, step, value);

    /// <summary><c>table percentile "Title" of score in UNIT, step 1</c>; its rows are read as a table is.</summary>
    public static readonly TokenListParser<TokenKind, Statement> Table =
        from start in First("table")
        from name in Name
        from title in Text.Select(t => (TextValue?)t).OptionalOrDefault()
        from of in Keyword("of")
        from raw in Name.Named("the measure or score that is looked up")
        from unit in Keyword("in").IgnoreThen(UnitOf).Select(u => (UnitValue?)u).OptionalOrDefault()
        from step in StepOf
        select (Statement)
            new OutcomeBlock(true, name, title, unit, step, null) { Lookup = new LookupBody(raw) };
}
