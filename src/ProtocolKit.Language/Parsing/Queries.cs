using ProtocolKit.Language.Lexing;
using Superpower;
using Superpower.Model;

namespace ProtocolKit.Language.Parsing;

/// <summary>
/// Puts the parser of a line together from a query. The library's own way builds every clause anew each time a line is
/// read, which costs far more than reading it; here each is built once, with the parser. So a clause can't use what
/// an earlier one has read: only <c>select</c> can.
/// </summary>
internal static class Queries
{
    public static TokenListParser<TokenKind, TResult> SelectMany<TFirst, TSecond, TResult>(
        this TokenListParser<TokenKind, TFirst> first,
        Func<TFirst, TokenListParser<TokenKind, TSecond>> clause,
        Func<TFirst, TSecond, TResult> select
    )
    {
        var second =
            clause(default!) ?? throw new InvalidOperationException("A clause stands above what it uses.");
        return input =>
        {
            var one = first(input);
            if (!one.HasValue)
            {
                return TokenListParserResult.CastEmpty<TokenKind, TFirst, TResult>(one);
            }

            var two = second(one.Remainder);
            return two.HasValue
                ? TokenListParserResult.Value(select(one.Value, two.Value), input, two.Remainder)
                : TokenListParserResult.CastEmpty<TokenKind, TSecond, TResult>(two);
        };
    }

    /// <summary>At least one, without anything between.</summary>
    public static TokenListParser<TokenKind, IReadOnlyList<T>> InARow<T>(
        this TokenListParser<TokenKind, T> parser
    ) => List(parser, parser);

    /// <summary>At least one, by commas.</summary>
    public static TokenListParser<TokenKind, IReadOnlyList<T>> ByCommas<T>(
        this TokenListParser<TokenKind, T> parser
    ) => List(parser, Basic.Comma.IgnoreThen(parser));

    private static TokenListParser<TokenKind, IReadOnlyList<T>> List<T>(
        TokenListParser<TokenKind, T> first,
        TokenListParser<TokenKind, T> further
    ) =>
        input =>
        {
            var next = first(input);
            if (!next.HasValue)
            {
                return TokenListParserResult.CastEmpty<TokenKind, T, IReadOnlyList<T>>(next);
            }

            var items = new List<T>();
            var rest = input;
            while (next.HasValue)
            {
                items.Add(next.Value);
                rest = next.Remainder;
                next = further(rest);
            }

            // A comma promises one more.
            return next.Remainder == rest
                ? TokenListParserResult.Value<TokenKind, IReadOnlyList<T>>(items, input, rest)
                : TokenListParserResult.CastEmpty<TokenKind, T, IReadOnlyList<T>>(next);
        };
}
