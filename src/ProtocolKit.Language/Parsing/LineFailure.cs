using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using Superpower.Model;

namespace ProtocolKit.Language.Parsing;

/// <summary>
/// Why a line can't be read, in the words of the most likely slip: a text without quotes, a range with a hyphen, a
/// number in letters, a sign of another notation; else what stands there and what belongs there.
/// </summary>
/// <param name="readThrough">True where the line could have ended before the place of the failure.</param>
internal sealed class LineFailure(SourceText source, Line line, bool readThrough, string[] expected)
{
    private const int LongestQuoted = 80;

    private static readonly Dictionary<string, string> InFigures = new(StringComparer.OrdinalIgnoreCase)
    {
        ["one"] = "1",
        ["two"] = "2",
        ["three"] = "3",
        ["four"] = "4",
        ["five"] = "5",
        ["six"] = "6",
        ["seven"] = "7",
        ["eight"] = "8",
        ["nine"] = "9",
        ["ten"] = "10",
    };

    /// <summary>Words of other notations for what is done with lists.</summary>
    private static readonly Dictionary<string, string> OfLists = new(StringComparer.OrdinalIgnoreCase)
    {
        ["sum"] = "add up",
        ["total"] = "add up",
        ["average"] = "mean of",
        ["mean"] = "mean of",
        ["max"] = "highest of",
        ["maximum"] = "highest of",
        ["most"] = "highest of",
        ["min"] = "lowest of",
        ["minimum"] = "lowest of",
        ["least"] = "lowest of",
    };

    public static string? FiguresFor(string word) => InFigures.GetValueOrDefault(word);

    public void Report(LineReader lines, TokenList<TokenKind> remainder)
    {
        if (remainder.IsAtEnd)
        {
            var end = line.Last.Place();
            lines.Report(
                end with
                {
                    Column = end.Column + end.Length,
                    Length = 1,
                },
                LineMessages.EndsTooSoon(expected)
            );
            return;
        }

        var token = remainder.First();
        var at = Array.FindIndex(line.Tokens, t => t.Span.Position.Absolute == token.Span.Position.Absolute);
        if (Slip(at) is var (place, message))
        {
            lines.Report(place, message);
        }
        else if (token.Kind != TokenKind.Stray)
        {
            lines.Report(token.Place(), Plain(token, at));
        }
    }

    private Message Plain(Token<TokenKind> token, int at)
    {
        var found = LineReader.Shorten(token.ToStringValue());
        var after = at == 0 ? null : LineReader.Shorten(line.Tokens[at - 1].ToStringValue());
        return readThrough
            ? LineMessages.TooMuch(found)
            : LineMessages.Unexpected(after, found, expected, Nearest(token));
    }

    /// <summary>The word of the language that the line must mean, where it is only misspelt.</summary>
    private string? Nearest(Token<TokenKind> token) =>
        token.Kind == TokenKind.Name
            ? Suggest.Nearest(
                token.ToStringValue(),
                expected.Where(e => e.StartsWith('`')).Select(e => e.Trim('`'))
            )
            : null;

    private (Place, Message)? Slip(int at) =>
        Range(at) ?? Figures(at) ?? Quotes(at) ?? InnerQuote(at) ?? Sign(at) ?? List(at) ?? Name(at);

    /// <summary><c>0-60</c> and <c>0 – 60</c> for <c>0 to 60</c>.</summary>
    private (Place, Message)? Range(int at)
    {
        if (
            !Expects("to")
            || at == 0
            || at + 1 >= line.Tokens.Length
            || !IsDash(line.Tokens[at])
            || !IsNumber(line.Tokens[at + 1])
        )
        {
            return null;
        }

        var (from, to) = (line.Tokens[at - 1], line.Tokens[at + 1]);
        return (
            from.Place().To(to.Place()),
            LineMessages.RangeWord($"{from.ToStringValue()} to {to.ToStringValue()}")
        );
    }

    /// <summary><c>two</c> for <c>2</c>, at the failure or just before it.</summary>
    private (Place, Message)? Figures(int at)
    {
        var isCount = at > 1 && line.Tokens[at].Is("or");
        var expectsNumber = Array.Exists(expected, e => e.Contains("number", StringComparison.Ordinal));
        var token = line.Tokens[isCount ? at - 1 : at];
        return
            token.Kind == TokenKind.Name
            && (isCount || expectsNumber)
            && FiguresFor(token.ToStringValue()) is { } figures
            ? (token.Place(), LineMessages.Figures(token.ToStringValue(), figures))
            : null;
    }

    /// <summary>Words where only a text may stand.</summary>
    private (Place, Message)? Quotes(int at)
    {
        var token = line.Tokens[at];
        if (
            readThrough
            || expected is not ["a text in double quotes"]
            || token.Kind is not (TokenKind.Name or TokenKind.Number or TokenKind.Stray)
        )
        {
            return null;
        }

        var rest = line.Tokens.Skip(at).ToList();
        if (token.Kind == TokenKind.Stray && rest.Exists(t => t.Kind == TokenKind.Text))
        {
            return null;
        }

        var end = rest.FindIndex(t => t.Kind is TokenKind.Comma or TokenKind.Text);
        var isWhole = end < 0;
        var last = isWhole ? rest[^1] : rest[Math.Max(0, end - 1)];
        var written = source.Text[token.Span.Position.Absolute..last.End()];
        var instead = isWhole && written.Length <= LongestQuoted ? $"\"{written}\"" : null;
        return (token.Place().To(last.Place()), LineMessages.NeedsQuotes(instead));
    }

    /// <summary>A quote inside a text ends it too soon.</summary>
    private (Place, Message)? InnerQuote(int at)
    {
        var isTouched =
            at > 0
            && line.Tokens[at - 1].Kind == TokenKind.Text
            && line.Tokens[at - 1].End() == line.Tokens[at].Span.Position.Absolute;
        return isTouched ? (line.Tokens[at].Place(), LineMessages.InnerQuote()) : null;
    }

    /// <summary><c>==</c>, <c>=></c> and the like.</summary>
    private (Place, Message)? Sign(int at)
    {
        if (at == 0 || line.Tokens[at - 1].End() != line.Tokens[at].Span.Position.Absolute)
        {
            return null;
        }

        var (before, token) = (line.Tokens[at - 1], line.Tokens[at]);
        var written = before.ToStringValue() + token.ToStringValue();
        var better = written switch
        {
            "==" => "=",
            "=>" => ">=",
            "=<" => "<=",
            "!=" or "><" => "<>",
            _ => null,
        };
        return better is null
            ? null
            : (before.Place().To(token.Place()), LineMessages.OtherSign(written, better));
    }

    /// <summary><c>sum of …</c>, <c>max(…)</c> for the words used here.</summary>
    private (Place, Message)? List(int at)
    {
        if (
            !readThrough
            || at < 1
            || line.Tokens[at - 1].Kind != TokenKind.Name
            || !OfLists.TryGetValue(line.Tokens[at - 1].ToStringValue(), out var better)
        )
        {
            return null;
        }

        var before = line.Tokens[at - 1];
        var isCall = line.Tokens[at].Kind == TokenKind.OpenBracket;
        var isOf = line.Tokens[at].Is("of");
        var place = isOf ? before.Place().To(line.Tokens[at].Place()) : before.Place();
        return isCall || isOf ? (place, LineMessages.OtherWord(before.ToStringValue(), better)) : null;
    }

    /// <summary>A name of several words; after a task's name it may be a family without its brackets.</summary>
    private (Place, Message)? Name(int at)
    {
        if (
            at < 2
            || line.Tokens[at].Kind != TokenKind.Name
            || line.Tokens[at].ToStringValue() is "higher" or "lower" or "middle"
        )
        {
            return null;
        }

        var (before, token) = (line.Tokens[at - 1], line.Tokens[at]);
        var isTask = line.Tokens[0].Is("task");
        if (isTask && before.Kind == TokenKind.Text)
        {
            return (token.Place(), LineMessages.FamilyBrackets(token.ToStringValue()));
        }

        var words = line
            .Tokens.Skip(1)
            .TakeWhile(t => t.Kind == TokenKind.Name)
            .Select(t => t.ToStringValue().ToLowerInvariant())
            .ToList();
        if (at != 2 || before.Kind != TokenKind.Name || !Declares(line.Tokens[0].ToStringValue()))
        {
            return null;
        }

        var joined = string.Join('-', words);
        return (
            token.Place(),
            LineMessages.NameOfWords(joined, isTask && words.Count == 2 ? token.ToStringValue() : null) with
            {
                EditAt = line.Tokens[1].Place().To(line.Tokens[words.Count].Place()),
            }
        );
    }

    private static bool Declares(string word) =>
        word
            is "protocol"
                or "module"
                or "task"
                or "section"
                or "scale"
                or "family"
                or "material"
                or "caution"
                or "observation"
                or "band"
                or "table"
                or "measure"
                or "score";

    private bool Expects(string word) => expected.Contains($"`{word}`", StringComparer.Ordinal);

    private static bool IsNumber(Token<TokenKind> token) => token.Kind is TokenKind.Number or TokenKind.Age;

    private static bool IsDash(Token<TokenKind> token) =>
        token.Kind == TokenKind.Minus
        || (token.Kind == TokenKind.Stray && token.ToStringValue() is "–" or "—" or "−");
}
