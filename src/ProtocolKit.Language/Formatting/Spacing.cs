using ProtocolKit.Language.Lexing;
using Superpower.Model;

namespace ProtocolKit.Language.Formatting;

/// <summary>
/// Spaces between two pieces where no column asks for more. Whether a minus, a slash or a quote touches its neighbour means
/// something, so what touches goes on touching and what doesn't, doesn't; only around commas and inside brackets there is one way.
/// </summary>
internal static class Spacing
{
    public static int Between(Token<TokenKind> before, Token<TokenKind> after)
    {
        if (after.Kind is TokenKind.Comma or TokenKind.CloseBracket || before.Kind == TokenKind.OpenBracket)
        {
            return 0;
        }

        return before.Kind == TokenKind.Comma || before.End() < after.Span.Position.Absolute ? 1 : 0;
    }
}
