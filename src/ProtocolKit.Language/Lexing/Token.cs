using Superpower.Display;
using Superpower.Model;

namespace ProtocolKit.Language.Lexing;

/// <summary>Kinds of the pieces a line is made of. The words are those that messages use.</summary>
public enum TokenKind
{
    [Token(Category = "name", Description = "a name")]
    Name,

    [Token(Description = "a number")]
    Number,

    [Token(Description = "an age such as 4;6")]
    Age,

    [Token(Description = "a text in double quotes")]
    Text,

    [Token(Example = ",", Description = "a comma")]
    Comma,

    [Token(Example = "(", Description = "an opening bracket")]
    OpenBracket,

    [Token(Example = ")", Description = "a closing bracket")]
    CloseBracket,

    [Token(Example = "+", Description = "a plus")]
    Plus,

    [Token(Example = "-", Description = "a minus")]
    Minus,

    [Token(Example = "*", Description = "a times sign")]
    Times,

    [Token(Example = "/", Description = "a slash")]
    Slash,

    [Token(Example = "=", Description = "an equals sign")]
    Equals,

    [Token(Example = "<>", Description = "a not-equal sign")]
    NotEquals,

    [Token(Example = "<", Description = "a less-than sign")]
    Less,

    [Token(Example = "<=", Description = "an at-most sign")]
    AtMost,

    [Token(Example = ">", Description = "a greater-than sign")]
    Greater,

    [Token(Example = ">=", Description = "an at-least sign")]
    AtLeast,

    /// <summary>A character the language has no use for; already reported.</summary>
    [Token(Description = "a stray character")]
    Stray,
}

internal static class TokenExtensions
{
    public static Place Place(this Token<TokenKind> token) =>
        new(token.Span.Position.Line, token.Span.Position.Column, token.Span.Length);

    public static bool Is(this Token<TokenKind> token, string word) =>
        token.Kind == TokenKind.Name && token.Span.Length == word.Length && token.Span.EqualsValue(word);

    public static int End(this Token<TokenKind> token) => token.Span.Position.Absolute + token.Span.Length;
}
