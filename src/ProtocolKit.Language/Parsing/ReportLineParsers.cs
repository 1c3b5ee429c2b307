using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;
using Superpower;
using Superpower.Parsers;
using static ProtocolKit.Language.Parsing.Basic;

namespace ProtocolKit.Language.Parsing;

/// <summary>Lines of letters, notes, passages, re-tests and readiness.</summary>
internal static class ReportLineParsers
{
    private static readonly TokenListParser<TokenKind, ErrorClause> Clause = (
        from word in Keyword("n")
        from number in Literal
        select new ErrorClause(word, number, null, null)
    )
        .Or(
            from word in Keyword("interval")
            from range in RangeOf
            select new ErrorClause(word, null, range, null)
        )
        .Or(
            from word in Keyword("after")
            from range in RangeOf
            from unit in Name.Where(
                    u => u.Text is "days" or "weeks" or "months",
                    "write days, weeks or months"
                )
                .Named("days, weeks or months")
            select new ErrorClause(word, null, range, unit)
        );

    public static readonly TokenListParser<TokenKind, Statement> Error =
        from start in Keyword("error")
        from number in Literal
        from basis in Text
        from clauses in Comma.IgnoreThen(Clause).Many()
        select (Statement)new ErrorLine(number, basis, clauses);

    private static readonly TokenListParser<TokenKind, Word> AudienceWord = Keyword("team-only")
        .Or(Keyword("team"))
        .Or(Keyword("caregiver"));

    public static readonly TokenListParser<TokenKind, Statement> Paragraph =
        from audience in AudienceWord.Select(w => (Word?)w).OptionalOrDefault()
        from text in Text
        select (Statement)new TextOnlyLine(audience, text);

    public static readonly TokenListParser<TokenKind, Statement> Passage =
        from start in First("passage")
        from name in Name
        from audience in Name.Named("caregiver, team or team-only")
        select (Statement)new ReportTextBlock(start, name, audience);

    public static readonly TokenListParser<TokenKind, Statement> Readiness =
        from start in First("readiness")
        from text in Text
        select (Statement)new ReadinessBlock(text);

    private static readonly TokenListParser<TokenKind, NumberValue> InPercent =
        from word in Keyword("in")
        from number in Literal
        from unit in Keyword("percent")
        select number;

    private static readonly TokenListParser<TokenKind, Statement> Same =
        from start in First("same")
        from what in (
            from band in Keyword("band")
            from of in Keyword("of")
            from name in Name
            select (Kind: ReadinessKind.SameBand, Name: (Word?)name)
        )
            .Or(Keyword("headline").Select(_ => (Kind: ReadinessKind.SameHeadline, Name: (Word?)null)))
            .Or(Name.Select(n => (Kind: ReadinessKind.SameAnswer, Name: (Word?)n)))
        from percent in InPercent
        select (Statement)new ReadinessCheckLine(what.Kind, what.Name, null, percent);

    private static readonly TokenListParser<TokenKind, Statement> Within =
        from start in First("within")
        from number in Literal
        from of in Keyword("of")
        from name in Name
        from percent in InPercent
        select (Statement)new ReadinessCheckLine(ReadinessKind.CloseValue, name, number, percent);

    public static readonly Dictionary<string, TokenListParser<TokenKind, Statement>> ReadinessLines = new(
        StringComparer.Ordinal
    )
    {
        ["records"] = After("records", Literal).Select(n => (Statement)new ReadinessRecordsLine(n)),
        ["same"] = Same,
        ["within"] = Within,
        ["again"] =
            from start in First("again")
            from after in Keyword("after")
            from months in Literal
            from unit in Keyword("months")
            select (Statement)new ReadinessAgainLine(months),
    };

    public static TokenListParser<TokenKind, Statement> ReportText(string word) =>
        from start in First(word)
        from audience in Name.Named("caregiver, team or team-only")
        select (Statement)new ReportTextBlock(start, null, audience);
}
