using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using Superpower.Model;

namespace ProtocolKit.Language.Parsing;

/// <summary>Reads one line with one parser and says in plain words what is wrong when it can't.</summary>
internal sealed class LineReader(SourceText source, DiagnosticBag diagnostics)
{
    public SourceText Source => source;

    public void Report(Place place, Message message) => diagnostics.Report(source, place, message);

    /// <summary>The statement, or null after reporting.</summary>
    public T? Read<T>(Line line, TokenListParser<TokenKind, T> parser)
        where T : Statement
    {
        var result = parser.TryParse(new TokenList<TokenKind>(line.Tokens));
        if (result.HasValue && result.Remainder.IsAtEnd)
        {
            var statement = (T)(Statement)result.Value;
            statement.Source = source;
            statement.Place = line.Place;
            return statement;
        }

        ReportFailure(line, result.HasValue, result.Remainder, result.Expectations);
        return null;
    }

    /// <summary>The text from one token to another, as the author wrote it.</summary>
    public string Written(Token<TokenKind> from, Token<TokenKind> to) =>
        source.Text[from.Span.Position.Absolute..to.End()];

    public void RefuseChildren(Line line)
    {
        if (line.Children.Count > 0)
        {
            Report(line.Children[0].Place, LineMessages.NothingGoesUnder(line.First.ToStringValue()));
        }
    }

    private void ReportFailure(
        Line line,
        bool readThrough,
        TokenList<TokenKind> remainder,
        string[]? expectations
    )
    {
        // A stray character or an unclosed text has been reported; what follows from it has not to be.
        if (line.Tokens.Any(t => t.Kind == TokenKind.Stray) || diagnostics.HasLexicalError(source, line.Place.Line))
        {
            return;
        }

        if (remainder.IsAtEnd)
        {
            var end = line.Last.Place();
            Report(end with { Column = end.Column + end.Length, Length = 1 }, LineMessages.EndsTooSoon(expectations));
            return;
        }

        var token = remainder.First();
        var before = line.Tokens.TakeWhile(t => t.Span.Position.Absolute < token.Span.Position.Absolute).LastOrDefault();
        var after = before.HasValue ? Written(before, before) : null;
        var shown = Shorten(Written(token, token));
        var message = readThrough
            ? LineMessages.TooMuch(shown)
            : LineMessages.Unexpected(after, shown, token.Kind, expectations);
        Report(token.Place(), message);
    }

    private static string Shorten(string text) => text.Length <= 40 ? text : text[..37] + "…";
}
