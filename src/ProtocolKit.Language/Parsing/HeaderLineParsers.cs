using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using Superpower.Parsers;
using static ProtocolKit.Language.Parsing.Basic;

namespace ProtocolKit.Language.Parsing;

/// <summary>Lines of the header that say more than one text: editions, ages, languages.</summary>
internal static class HeaderLineParsers
{
    private static readonly TokenListParser<TokenKind, Word> EditionNumber = One(TokenKind.Number)
        .Select(t => new Word(t.ToStringValue(), t.Place()));

    /// <summary>Quoted, an edition has no room for a note: two texts in a row would read as one.</summary>
    public static readonly TokenListParser<TokenKind, Statement> Edition = After(
        "edition",
        (
            from number in EditionNumber
            from what in AfterComma(Text)
            select (Statement)new EditionLine(number.Text, what)
        ).Or(Text.Select(t => (Statement)new EditionLine(t.Text, null)))
    );

    public static readonly TokenListParser<TokenKind, Statement> EarlierEdition =
        from start in First("earlier")
        from word in Keyword("edition")
        from number in EditionNumber
        from comma in Comma
        from what in Text
        select (Statement)new EarlierEditionLine(number.Text, number.Place, what);

    private static readonly TokenListParser<TokenKind, Statement> Corrected =
        from corrected in Keyword("corrected")
        from why in Keyword("for")
        from prematurity in Keyword("prematurity")
        from until in Keyword("until")
        from age in Age
        select (Statement)new CorrectedAgesLine(age);

    public static readonly TokenListParser<TokenKind, Statement> AgesOf = After(
        "ages",
        Corrected.Or(Ages.Select(a => (Statement)new AgesLine(a)))
    );

    public static readonly TokenListParser<TokenKind, Statement> Translations = After(
            "translations",
            Name.Named("a language tag such as de").ByCommas()
        )
        .Select(l => (Statement)new TranslationsLine(l));
}
