using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using Superpower.Parsers;
using static ProtocolKit.Language.Parsing.Basic;

namespace ProtocolKit.Language.Parsing;

/// <summary>Lines that begin a statement at the margin, and the lines of the header.</summary>
internal static class TopLineParsers
{
    private static readonly TokenListParser<TokenKind, Argument> ArgumentOf = Text.Select(t => new Argument(
            null,
            t,
            null
        ))
        .Or(Literal.Select(n => new Argument(null, null, n)))
        .Or(Name.Select(n => new Argument(n, null, null)))
        .Named("a text, a name or a number");

    private static readonly TokenListParser<TokenKind, Parameter> ParameterOf =
        from name in Name
        from standard in One(TokenKind.Equals)
            .IgnoreThen(ArgumentOf)
            .Select(a => (Argument?)a)
            .OptionalOrDefault()
        select new Parameter(name, standard);

    private static readonly TokenListParser<TokenKind, IReadOnlyList<Parameter>> Parameters =
        from open in One(TokenKind.OpenBracket)
        from parameters in ParameterOf.ByCommas().OptionalOrDefault([])
        from close in One(TokenKind.CloseBracket)
        select parameters;

    private static readonly TokenListParser<TokenKind, Statement> Family =
        from start in First("family")
        from name in Name
        from parameters in Parameters.OptionalOrDefault([])
        select (Statement)new FamilyBlock(name, parameters);

    private static readonly TokenListParser<TokenKind, bool> ShortForm = Keyword("short")
        .IgnoreThen(Keyword("form"))
        .Select(_ => true);

    private static readonly TokenListParser<TokenKind, FamilyUse> UseOfFamily =
        from name in Name
        from open in One(TokenKind.OpenBracket)
        from arguments in ArgumentOf.ByCommas().OptionalOrDefault([])
        from close in One(TokenKind.CloseBracket)
        select new FamilyUse(name, arguments);

    private static readonly TokenListParser<TokenKind, EachMember> Member =
        from name in Name
        from text in Text.Select(t => (TextValue?)t).OptionalOrDefault()
        select new EachMember(name, text);

    private static readonly TokenListParser<TokenKind, EachClause> Each =
        from start in Keyword("each")
        from kind in Keyword("side").Or(Keyword("place")).Or(Keyword("sound")).Or(Keyword("word"))
        from members in Member.ByCommas()
        select new EachClause(kind, members);

    private static readonly TokenListParser<TokenKind, Statement> Task =
        from start in First("task")
        from name in Name
        from title in Text.Select(t => (TextValue?)t).OptionalOrDefault()
        from use in UseOfFamily.Select(u => (FamilyUse?)u).Try().OptionalOrDefault()
        from shortForm in Comma.OptionalOrDefault().IgnoreThen(ShortForm).Try().OptionalOrDefault(false)
        from each in Comma
            .OptionalOrDefault()
            .IgnoreThen(Each)
            .Select(e => (EachClause?)e)
            .OptionalOrDefault()
        select (Statement)new TaskBlock(name, title, use, shortForm, each);

    private static readonly TokenListParser<TokenKind, Statement> Section =
        from start in First("section")
        from name in Name
        from title in Text
        from qualitative in Flag(Qualitative)
        select (Statement)new SectionBlock(name, title, qualitative);

    private static readonly TokenListParser<TokenKind, Statement> Material =
        from start in First("material")
        from name in Name
        from comma in Comma.OptionalOrDefault()
        from text in Text
        from amount in Comma.IgnoreThen(Text).Select(t => (TextValue?)t).OptionalOrDefault()
        select (Statement)new MaterialLine(name, text, amount);

    private static readonly TokenListParser<TokenKind, Statement> Scale =
        from start in First("scale")
        from name in Name
        from comma in Comma
        from better in Keyword("higher").Or(Keyword("lower")).Or(Keyword("middle"))
        from verb in Keyword("is")
        from word in Keyword("better")
        select (Statement)new ScaleBlock(name, better);

    private static readonly TokenListParser<TokenKind, Statement> Observation =
        from start in First("observation")
        from name in Name
        from text in Text
        from qualitative in Flag(Qualitative)
        select (Statement)new ObservationLine(name, text, qualitative);

    private static readonly TokenListParser<TokenKind, Statement> GivingOrder =
        from start in First("giving")
        from order in Keyword("order")
        from byContact in Keyword("by")
            .IgnoreThen(Keyword("contact"))
            .Select(_ => true)
            .OptionalOrDefault(false)
        select (Statement)new GivingOrderBlock(byContact);

    public static readonly Dictionary<string, TokenListParser<TokenKind, Statement>> ByWord = new(
        StringComparer.Ordinal
    )
    {
        ["language"] = After("language", Literal).Select(v => (Statement)new LanguageLine(v)),
        ["protocol"] = After("protocol", Name).Select(n => (Statement)new ProtocolHeader(n)),
        ["module"] = After("module", Name).Select(n => (Statement)new ModuleHeader(n)),
        ["use"] = After("use", Name).Select(n => (Statement)new UseLine(n)),
        ["material"] = Material,
        ["caution"] = NameAndText("caution", (n, t) => new CautionBlock(n, t)),
        ["scale"] = Scale,
        ["observation"] = Observation,
        ["band"] = NameAndText("band", (n, t) => new BandLineStatement(n, t)),
        ["family"] = Family,
        ["section"] = Section,
        ["task"] = Task,
        ["giving"] = GivingOrder,
        ["measure"] = RuleLineParsers.Outcome("measure"),
        ["score"] = RuleLineParsers.Outcome("score"),
        ["side"] = SideParsers.Difference,
        ["table"] = RuleLineParsers.Table,
        ["cut-offs"] = RuleLineParsers.CutOffs,
        ["actions"] = First("actions").Select(_ => (Statement)new ActionsBlock()),
        ["claim"] = RuleLineParsers.Claim,
        ["re-test"] = After("re-test", Name).Select(n => (Statement)new ReTestBlock(n)),
        ["letter"] = ReportLineParsers.ReportText("letter"),
        ["note"] = ReportLineParsers.ReportText("note"),
        ["passage"] = ReportLineParsers.Passage,
        ["readiness"] = ReportLineParsers.Readiness,
        ["case-history"] = First("case-history").Select(_ => (Statement)new CaseHistoryBlock()),
        ["event"] = RoutingLineParsers.Event,
        ["consents"] = First("consents").Select(_ => (Statement)new ConsentsBlock()),
    };

    public static readonly Dictionary<string, TokenListParser<TokenKind, Statement>> Header = new(
        StringComparer.Ordinal
    )
    {
        ["title"] = HeaderTextOf("title"),
        ["purpose"] = HeaderTextOf("purpose"),
        ["examiner"] = HeaderTextOf("examiner"),
        ["reference"] = HeaderTextOf("reference"),
        ["edition"] = HeaderLineParsers.Edition,
        ["earlier"] = HeaderLineParsers.EarlierEdition,
        ["ages"] = HeaderLineParsers.AgesOf,
        ["translations"] = HeaderLineParsers.Translations,
        ["sitting"] =
            from start in First("sitting")
            from minutes in RangeOf
            from unit in Keyword("min")
            select (Statement)new SittingLine(minutes),
        ["short"] =
            from start in First("short")
            from form in Keyword("form")
            from minutes in Literal
            from unit in Keyword("min")
            select (Statement)new ShortFormLine(minutes),
        ["spoken"] = After("spoken", Name.Named("a language tag such as en"))
            .Select(n => (Statement)new SpokenLine(n)),
    };

    public static readonly TokenListParser<TokenKind, CoverLine> Cover =
        from start in Keyword("for")
        from isContact in Keyword("contact").Select(_ => true).Or(Keyword("material").Select(_ => false))
        from names in NamesOf
        select new CoverLine(isContact, names);

    public static readonly TokenListParser<TokenKind, LevelLine> Level =
        from points in Literal
        from text in Text
        from example in Keyword("for")
            .IgnoreThen(Keyword("example"))
            .IgnoreThen(Text)
            .Select(t => (TextValue?)t)
            .OptionalOrDefault()
        select new LevelLine(points, text, example);

    public static readonly TokenListParser<TokenKind, Statement> Introduction = After("text", Text)
        .Select(t => (Statement)new IntroductionLine(t));

    public static readonly TokenListParser<TokenKind, NameListLine> NameList = NamesOf.Select(
        n => new NameListLine(n)
    );

    private static TokenListParser<TokenKind, Statement> HeaderTextOf(string word) =>
        After(word, Text).Select(t => (Statement)new HeaderText(word, t));

    private static TokenListParser<TokenKind, Statement> NameAndText(
        string word,
        Func<Word, TextValue, Statement> make
    ) => from start in First(word) from name in Name from text in Text select make(name, text);
}
