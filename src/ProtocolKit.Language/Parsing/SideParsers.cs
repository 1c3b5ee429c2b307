using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using Superpower.Parsers;
using static ProtocolKit.Language.Parsing.Basic;

namespace ProtocolKit.Language.Parsing;

/// <summary>Side differences: their first line, and the lines under it.</summary>
internal static class SideParsers
{
    public static readonly TokenListParser<TokenKind, Statement> Difference =
        from side in First("side")
        from difference in Keyword("difference")
        from name in Name
        from title in Text.Select(t => (TextValue?)t).OptionalOrDefault()
        select (Statement)new OutcomeBlock(false, name, title, null, null, null) { Sides = new SideBody() };

    private static readonly TokenListParser<TokenKind, Word> EverySidedTask = Keyword("every")
        .IgnoreThen(Keyword("sided"))
        .IgnoreThen(Keyword("task"))
        .IgnoreThen(Keyword("in"))
        .IgnoreThen(Name.Named("the name of a section"));

    private static readonly TokenListParser<TokenKind, Word> EveryDirection = Keyword("every")
        .IgnoreThen(Keyword("direction"))
        .IgnoreThen(Keyword("in"))
        .IgnoreThen(Name.Named("the name of a section"));

    private static readonly TokenListParser<TokenKind, Statement> Answers =
        from response in Name.Named("the name of an answer such as rate")
        from of in Keyword("of")
        from what in EverySidedTask
            .Select(s => new SidedAnswersLine(s, s, []))
            .Or(NamesOf.Select(t => new SidedAnswersLine(t[0], null, t)))
        select (Statement)(what with { Response = response });

    private static readonly TokenListParser<TokenKind, Statement> Directions = Keyword("also")
        .IgnoreThen(
            EveryDirection
                .Select(s => (Statement)new DirectionsLine(s, []))
                .Or(
                    Keyword("direction")
                        .IgnoreThen(Keyword("of"))
                        .IgnoreThen(NamesOf)
                        .Select(t => (Statement)new DirectionsLine(null, t))
                )
        );

    private static readonly TokenListParser<TokenKind, Statement> Agree =
        from weaker in Keyword("weaker")
        from side in Keyword("side")
        from needs in Keyword("needs")
        from count in Literal
        from task in Keyword("tasks").Or(Keyword("task"))
        from that in Keyword("that")
        from agree in Keyword("agree").Or(Keyword("agrees"))
        select (Statement)new AgreeLine(count);

    /// <summary>The lines under a side difference, by their first word; any other begins with the name of an answer.</summary>
    public static TokenListParser<TokenKind, Statement> Line(string word) =>
        word switch
        {
            "also" => Directions,
            "weaker" => Agree,
            _ => Answers,
        };
}
