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
        var result = parser(new TokenList<TokenKind>(line.Tokens));
        if (result.HasValue && result.Remainder.IsAtEnd)
        {
            var statement = (T)(Statement)result.Value;
            statement.Source = source;
            statement.Place = line.Place;
            return statement;
        }

        // What follows from a tab, an unclosed text or a unit without its space has not to be told.
        if (!diagnostics.HasLexicalError(source, line.Place.Line))
        {
            new LineFailure(source, line, result.HasValue, result.Expectations ?? []).Report(
                this,
                result.Remainder
            );
        }

        return null;
    }

    /// <summary>
    /// The first word of a line, put right where it is misspelt; null, after reporting, where it can't stand here.
    /// </summary>
    public string? WordOf<T>(Line line, Dictionary<string, T> words)
    {
        if (
            line.First.Kind == TokenKind.Name
            && words.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(line.Word, out var known, out _)
        )
        {
            return known;
        }

        var word = line.First.ToStringValue();

        // Where a tab shifts a line, nobody can know what it stands under.
        if (diagnostics.HasLexicalError(source, line.Place.Line))
        {
            return null;
        }

        if (line.First.Kind == TokenKind.Name)
        {
            var nearest = Places.IsKnown(word) ? null : diagnostics.Nearest(word, words.Keys);
            var apart =
                nearest is null && RunTogether(word, words.Keys) is var (first, rest)
                    ? $"{first} {rest}"
                    : null;
            Report(line.First.Place(), Places.NotHere(word, nearest ?? apart, words.Keys));
            return nearest;
        }

        if (line.First.Kind != TokenKind.Stray)
        {
            var isLevel =
                line.First.Kind == TokenKind.Number
                && line.Tokens.Length > 1
                && line.Tokens[1].Kind == TokenKind.Text;
            Report(line.First.Place(), LineMessages.NoWord(Shorten(word), isLevel));
        }

        return null;
    }

    /// <summary>A first word and what follows it, written without the space between them.</summary>
    public static (string Word, string Name)? RunTogether(string written, IEnumerable<string> words)
    {
        var word = words
            .Where(w =>
                w.Length > 2
                && written.Length > w.Length + 1
                && written.StartsWith(w, StringComparison.Ordinal)
            )
            .MaxBy(w => w.Length);
        return word is null || !char.IsAsciiLetter(written[word.Length])
            ? null
            : (word, written[word.Length..]);
    }

    /// <summary>Says where a known word belongs that can't stand here; null, for its line is not read.</summary>
    public string? RefuseHere<T>(Line line, Dictionary<string, T> words)
    {
        if (!diagnostics.HasLexicalError(source, line.Place.Line))
        {
            Report(line.First.Place(), Places.NotHere(line.First.ToStringValue(), null, words.Keys));
        }

        return null;
    }

    /// <summary>The text from one token to another as the author wrote it, but for spaces that only lay it out.</summary>
    public string Written(Token<TokenKind> from, Token<TokenKind> to) =>
        WrittenText.Of(
            source.Text.AsSpan(from.Span.Position.Absolute, to.End() - from.Span.Position.Absolute)
        );

    public void RefuseChildren(Line line)
    {
        if (line.Children.Count > 0 && !diagnostics.HasLexicalError(source, line.Children[0].Place.Line))
        {
            Report(
                line.Children[0].Place,
                LineMessages.NothingGoesUnder(Shorten(line.First.ToStringValue()))
            );
        }
    }

    public static string Shorten(string text) => text.Length <= 40 ? text : text[..37] + "…";
}
