using Superpower.Model;

namespace ProtocolKit.Language.Lexing;

/// <summary>Kinds of the pieces a line is made of.</summary>
public enum TokenKind
{
    Name,
    Number,
    Age,
    Text,
    Comma,
    OpenBracket,
    CloseBracket,
    Plus,
    Minus,
    Times,
    Slash,
    Equals,
    NotEquals,
    Less,
    AtMost,
    Greater,
    AtLeast,

    /// <summary>A character the language has no use for; already reported.</summary>
    Stray,
}

internal static class TokenExtensions
{
    /// <summary>As messages say it.</summary>
    public static string ToWords(this TokenKind kind) =>
        kind switch
        {
            TokenKind.Name => "a name",
            TokenKind.Number => "a number",
            TokenKind.Age => "an age such as 4;6",
            TokenKind.Text => "a text in double quotes",
            TokenKind.Comma => "a comma",
            TokenKind.OpenBracket => "an opening bracket",
            TokenKind.CloseBracket => "a closing bracket",
            TokenKind.Plus => "a plus",
            TokenKind.Minus => "a minus",
            TokenKind.Times => "a times sign",
            TokenKind.Slash => "a slash",
            TokenKind.Equals => "an equals sign",
            TokenKind.NotEquals => "a not-equal sign",
            TokenKind.Less => "a less-than sign",
            TokenKind.AtMost => "an at-most sign",
            TokenKind.Greater => "a greater-than sign",
            TokenKind.AtLeast => "an at-least sign",
            _ => "a stray character",
        };

    public static Place Place(this Token<TokenKind> token) =>
        new(token.Span.Position.Line, token.Span.Position.Column, token.Span.Length);

    public static bool Is(this Token<TokenKind> token, string word) =>
        token.Kind == TokenKind.Name && token.Span.Length == word.Length && token.Span.EqualsValue(word);

    public static int End(this Token<TokenKind> token) => token.Span.Position.Absolute + token.Span.Length;
}
