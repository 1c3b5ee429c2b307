using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;
using Superpower;
using Superpower.Parsers;
using static ProtocolKit.Language.Parsing.Basic;

namespace ProtocolKit.Language.Parsing;

/// <summary>Lines that say which tasks are given: start points, stop rules, skips, gates and events.</summary>
internal static class RoutingLineParsers
{
    private static readonly TokenListParser<TokenKind, Credit> CreditOf = (
        from left in Keyword("left")
        from o in Keyword("out")
        select Credit.LeftOut
    ).Or(
        Keyword("counts")
            .IgnoreThen(
                Keyword("lowest").Select(_ => Credit.Lowest).Or(Keyword("full").Select(_ => Credit.Full))
            )
    );

    private static readonly TokenListParser<TokenKind, Word> InARow =
        from i in Keyword("in")
        from a in Keyword("a")
        from row in Keyword("row")
        select row;

    private static readonly TokenListParser<TokenKind, GateTarget> Target =
        from name in Name.Named("face contact, mouth contact, or the name of a task or section")
        from contact in Keyword("contact").Select(_ => true).OptionalOrDefault(false)
        select new GateTarget(name, contact);

    private static readonly TokenListParser<TokenKind, WelfareStop> Stops = Keyword("stops")
        .IgnoreThen(
            (from mouth in Keyword("mouth") from contact in Keyword("contact") select WelfareStop.Mouth)
                .Or(
                    from face in Keyword("face")
                    from and in Keyword("and")
                    from mouth in Keyword("mouth")
                    from contact in Keyword("contact")
                    select WelfareStop.Touch
                )
                .Or(from the in Keyword("the") from sitting in Keyword("sitting") select WelfareStop.Sitting)
        );

    public static readonly TokenListParser<TokenKind, Statement> Difficulty =
        from start in First("order")
        from of in Keyword("of")
        from difficulty in Keyword("difficulty")
        from basis in Text.Select(t => (TextValue?)t).OptionalOrDefault()
        select (Statement)new DifficultyLine(basis);

    public static readonly TokenListParser<TokenKind, Statement> Start =
        from start in First("start")
        from at in Keyword("at")
        from task in Name.Named("the name of a task")
        from word in Keyword("from")
        from age in Basic.Age
        select (Statement)new StartLine(task, age);

    public static readonly TokenListParser<TokenKind, Statement> GoBack =
        from start in First("go")
        from back in Keyword("back")
        from until in Keyword("until")
        from count in Literal
        from row in InARow
        from full in Keyword("full")
        select (Statement)new GoBackLine(count);

    public static readonly TokenListParser<TokenKind, Statement> StopAfter =
        from start in First("stop")
        from after in Keyword("after")
        from count in Literal
        from tasks in Keyword("tasks").Or(Keyword("task"))
        from row in InARow.Select(r => (Word?)r).OptionalOrDefault()
        from rated in Keyword("rated")
        from points in Literal
        select (Statement)new StopAfterLine(count, points);

    public static readonly TokenListParser<TokenKind, Statement> Skip =
        from start in First("skip")
        from when in Keyword("when")
        from condition in ExpressionParsers.Condition
        from credit in Comma
            .IgnoreThen(CreditOf)
            .Named("what it counts as: left out, counts lowest or counts full")
        select (Statement)new SkipLine(condition, credit);

    public static readonly TokenListParser<TokenKind, Statement> Gate =
        from answer in Keyword("yes").Or(Keyword("no"))
        from closes in Keyword("closes")
        from targets in Target.ByCommas()
        from unless in Keyword("unless")
            .IgnoreThen(Name.Named("the name of a question"))
            .Select(n => (Word?)n)
            .OptionalOrDefault()
        select (Statement)new GateLine(answer.Text == "yes", targets, unless);

    public static readonly TokenListParser<TokenKind, Statement> Event =
        from start in First("event")
        from name in Name
        from text in Text
        from stops in Comma.IgnoreThen(Stops).OptionalOrDefault(WelfareStop.Nothing)
        select (Statement)new EventLine(name, text, stops);
}
