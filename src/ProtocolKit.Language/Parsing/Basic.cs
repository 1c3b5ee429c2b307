using System.Text;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;
using Superpower;
using Superpower.Model;
using Superpower.Parsers;

namespace ProtocolKit.Language.Parsing;

/// <summary>The small parsers all lines are built from.</summary>
internal static class Basic
{
    public static readonly TokenListParser<TokenKind, Token<TokenKind>> Comma = One(TokenKind.Comma);

    public static readonly TokenListParser<TokenKind, Word> Name = WordOf(
        TokenKind.Name.ToWords(),
        token => token.Kind == TokenKind.Name ? new Word(token.ToStringValue(), token.Place()) : null
    );

    private static readonly TokenListParser<TokenKind, Token<TokenKind>> OneText = One(TokenKind.Text);

    private static readonly TokenListParser<TokenKind, TextValue> Texts = OneText.InARow().Select(JoinTexts);

    /// <summary>One text, mostly, or several that stand one after the other and are one.</summary>
    public static readonly TokenListParser<TokenKind, TextValue> Text = input =>
    {
        var first = OneText(input);
        return !first.HasValue || OneText(first.Remainder).HasValue
            ? Texts(input)
            : TokenListParserResult.Value(
                new TextValue(Unquote(first.Value), first.Value.Place()),
                input,
                first.Remainder
            );
    };

    public static readonly TokenListParser<TokenKind, NumberValue> Literal = (
        from minus in One(TokenKind.Minus).OptionalOrDefault()
        from number in One(TokenKind.Number)
        select ToNumber(minus, number)
    ).Named("a number");

    /// <summary>A number, or a family's parameter in its place.</summary>
    public static readonly TokenListParser<TokenKind, NumberValue> Number = Literal
        .Or(Name.Select(n => new NumberValue(null, n, n.Place)))
        .Named("a number");

    public static readonly TokenListParser<TokenKind, NumberSpan> RangeOf =
        from low in Number
        from to in Keyword("to")
        from high in Number
        select new NumberSpan(low, high);

    public static readonly TokenListParser<TokenKind, AgeValue> Age = One(TokenKind.Age)
        .Or(One(TokenKind.Number))
        .Select(t => new AgeValue(t.ToStringValue(), t.Kind == TokenKind.Age, t.Place()))
        .Named("an age such as 4;6");

    public static readonly TokenListParser<TokenKind, AgeSpan> Ages =
        from low in Age
        from to in Keyword("to")
        from high in Age
        select new AgeSpan(low, high);

    public static readonly TokenListParser<TokenKind, IReadOnlyList<Word>> NamesOf = Name.ByCommas();

    public static readonly TokenListParser<TokenKind, IReadOnlyList<Word>> UnitAtom = Name.Select(n =>
            (IReadOnlyList<Word>)[.. n.Text.Split('.').Select(part => n with { Text = part })]
        )
        .Named("a unit such as s or mm");

    public static readonly TokenListParser<TokenKind, UnitValue> UnitOf =
        from above in UnitAtom
        from below in One(TokenKind.Slash).IgnoreThen(UnitAtom).Many()
        select new UnitValue(above, [.. below.SelectMany(b => b)]);

    public static readonly TokenListParser<TokenKind, bool> Qualitative = Keyword("qualitative")
        .Select(_ => true);

    /// <summary>One piece of a kind.</summary>
    public static TokenListParser<TokenKind, Token<TokenKind>> One(TokenKind kind)
    {
        string[] expected = [kind.ToWords()];
        return input =>
        {
            var next = input.ConsumeToken();
            return next.HasValue && next.Value.Kind == kind
                ? next
                : TokenListParserResult.Empty<TokenKind, Token<TokenKind>>(input, expected);
        };
    }

    /// <summary>One word of the language.</summary>
    public static TokenListParser<TokenKind, Word> Keyword(string word)
    {
        Keywords.Meet(word);
        return WordOf($"`{word}`", token => token.Is(word) ? new Word(word, token.Place()) : null);
    }

    /// <summary>The word a line begins with. It was looked at before this parser was chosen, and may be misspelt.</summary>
    public static TokenListParser<TokenKind, Word> First(string word)
    {
        Keywords.Meet(word);
        return WordOf(
            TokenKind.Name.ToWords(),
            token => token.Kind == TokenKind.Name ? new Word(word, token.Place()) : null
        );
    }

    /// <summary>The same where nobody asks for the word.</summary>
    public static TokenListParser<TokenKind, T> After<T>(string word, TokenListParser<TokenKind, T> rest)
    {
        Keywords.Meet(word);
        return One(TokenKind.Name).IgnoreThen(rest);
    }

    /// <param name="read">Gives null for a piece that is none.</param>
    private static TokenListParser<TokenKind, Word> WordOf(string words, Func<Token<TokenKind>, Word?> read)
    {
        string[] expected = [words];
        return input =>
        {
            var next = input.ConsumeToken();
            return next.HasValue && read(next.Value) is { } word
                ? TokenListParserResult.Value(word, input, next.Remainder)
                : TokenListParserResult.Empty<TokenKind, Word>(input, expected);
        };
    }

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

    private static TextValue JoinTexts(IReadOnlyList<Token<TokenKind>> tokens) =>
        new(string.Join(' ', tokens.Select(Unquote)), tokens[0].Place());

    private static NumberValue ToNumber(Token<TokenKind> minus, Token<TokenKind> number)
    {
        var written = number.Span;
        _ = Rational.TryParse(
            written.Source.AsSpan(written.Position.Absolute, written.Length),
            out var value
        );
        var place = number.Place();
        return minus.HasValue
            ? new NumberValue(-value, null, minus.Place().To(place))
            : new NumberValue(value, null, place);
    }
}
