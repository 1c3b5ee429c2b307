using System.Text;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;
using Superpower;
using Superpower.Model;
using Superpower.Parsers;

namespace ProtocolKit.Language.Parsing;

/// <summary>The small parsers all lines are built from. Each is built once.</summary>
internal static class Basic
{
    public static readonly TokenListParser<TokenKind, Token<TokenKind>> Comma = Token.EqualTo(
        TokenKind.Comma
    );

    public static readonly TokenListParser<TokenKind, Word> Name = Token
        .EqualTo(TokenKind.Name)
        .Select(t => new Word(t.ToStringValue(), t.Place()));

    public static readonly TokenListParser<TokenKind, TextValue> Text = Token
        .EqualTo(TokenKind.Text)
        .AtLeastOnce()
        .Select(JoinTexts);

    public static readonly TokenListParser<TokenKind, NumberValue> Literal = Token
        .EqualTo(TokenKind.Minus)
        .OptionalOrDefault()
        .Then(minus => Token.EqualTo(TokenKind.Number).Select(n => ToNumber(minus, n)))
        .Named("a number");

    /// <summary>A number, or a family's parameter in its place.</summary>
    public static readonly TokenListParser<TokenKind, NumberValue> Number = Literal
        .Or(Name.Select(n => new NumberValue(null, n, n.Place)))
        .Named("a number");

    public static readonly TokenListParser<TokenKind, NumberSpan> RangeOf =
        from low in Number
        from to in Keyword("to")
        from high in Number
        select new NumberSpan(low, high);

    private static readonly TokenListParser<TokenKind, AgeValue> Age = Token
        .EqualTo(TokenKind.Age)
        .Or(Token.EqualTo(TokenKind.Number))
        .Select(t => new AgeValue(t.ToStringValue(), t.Kind == TokenKind.Age, t.Place()))
        .Named("an age such as 4;6");

    public static readonly TokenListParser<TokenKind, AgeSpan> Ages =
        from low in Age
        from to in Keyword("to")
        from high in Age
        select new AgeSpan(low, high);

    public static readonly TokenListParser<TokenKind, IReadOnlyList<Word>> NamesOf =
        Name.AtLeastOnceDelimitedBy(Comma).Select(n => (IReadOnlyList<Word>)n);

    public static readonly TokenListParser<TokenKind, IReadOnlyList<Word>> UnitAtom = Name.Select(n =>
            (IReadOnlyList<Word>)[.. n.Text.Split('.').Select(part => n with { Text = part })]
        )
        .Named("a unit such as s or mm");

    public static readonly TokenListParser<TokenKind, UnitValue> UnitOf =
        from above in UnitAtom
        from below in Token.EqualTo(TokenKind.Slash).IgnoreThen(UnitAtom).Many()
        select new UnitValue(above, [.. below.SelectMany(b => b)]);

    public static readonly TokenListParser<TokenKind, bool> Qualitative = Keyword("qualitative")
        .Select(_ => true);

    public static TokenListParser<TokenKind, Word> Keyword(string word) =>
        Token.EqualToValue(TokenKind.Name, word).Select(t => new Word(word, t.Place()));

    /// <summary>The word a line begins with. It was looked at before this parser was chosen, and may be misspelt.</summary>
    public static TokenListParser<TokenKind, Word> First(string word) =>
        Token.EqualTo(TokenKind.Name).Select(t => new Word(word, t.Place()));

    /// <summary>A parser taken only when the next pieces say so, so that a mistake further on is told where it is.</summary>
    public static TokenListParser<TokenKind, T> When<T>(
        Func<TokenList<TokenKind>, bool> isNext,
        TokenListParser<TokenKind, T> parser
    ) => input => isNext(input) ? parser(input) : TokenListParserResult.Empty<TokenKind, T>(input);

    /// <summary>True where these words come next.</summary>
    public static Func<TokenList<TokenKind>, bool> Words(params string[] words) =>
        input =>
        {
            foreach (var word in words)
            {
                var next = input.ConsumeToken();
                if (!next.HasValue || !next.Value.Is(word))
                {
                    return false;
                }

                input = next.Remainder;
            }

            return true;
        };

    /// <summary>True where pieces of these kinds come next.</summary>
    public static Func<TokenList<TokenKind>, bool> Kinds(params TokenKind[] kinds) =>
        input =>
        {
            foreach (var kind in kinds)
            {
                var next = input.ConsumeToken();
                if (!next.HasValue || next.Value.Kind != kind)
                {
                    return false;
                }

                input = next.Remainder;
            }

            return true;
        };

    /// <summary>What may follow a comma, or nothing.</summary>
    public static TokenListParser<TokenKind, T?> AfterComma<T>(TokenListParser<TokenKind, T> parser)
        where T : class => Comma.IgnoreThen(parser).Select(v => (T?)v).OptionalOrDefault();

    public static TokenListParser<TokenKind, bool> Flag(TokenListParser<TokenKind, bool> parser) =>
        Comma.IgnoreThen(parser).OptionalOrDefault(false);

    public static string Unquote(Token<TokenKind> token)
    {
        var span = token.Span;
        var raw = span.Source!.AsSpan(span.Position.Absolute + 1, Math.Max(0, span.Length - 1));
        if (
            raw.Length > 0
            && (
                raw[^1] == '"'
                || (Quotes.IsOther(raw[^1]) && Quotes.IsOther(span.Source![span.Position.Absolute]))
            )
        )
        {
            raw = raw[..^1];
        }

        if (raw.IndexOf('\\') < 0)
        {
            return raw.Trim('\r').ToString();
        }

        var text = new StringBuilder(raw.Length);
        for (var i = 0; i < raw.Length; i++)
        {
            if (raw[i] == '\\' && i + 1 < raw.Length && raw[i + 1] is '"' or '\\')
            {
                i++;
            }

            text.Append(raw[i]);
        }

        return text.ToString();
    }

    private static TextValue JoinTexts(Token<TokenKind>[] tokens)
    {
        var place = tokens[0].Place();
        return tokens.Length == 1
            ? new TextValue(Unquote(tokens[0]), place)
            : new TextValue(string.Join(' ', tokens.Select(Unquote)), place);
    }

    private static NumberValue ToNumber(Token<TokenKind> minus, Token<TokenKind> number)
    {
        _ = Rational.TryParse(number.ToStringValue(), out var value);
        var place = number.Place();
        return minus.HasValue
            ? new NumberValue(-value, null, minus.Place().To(place))
            : new NumberValue(value, null, place);
    }
}
