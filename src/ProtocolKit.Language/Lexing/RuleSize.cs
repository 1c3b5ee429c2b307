using ProtocolKit.Language.Diagnostics;
using Superpower.Model;

namespace ProtocolKit.Language.Lexing;

/// <summary>
/// Refuses lines no person could follow, and no recursive reader survive: too many things inside each other, or too many
/// signs in a row.
/// </summary>
internal static class RuleSize
{
    private const int Deepest = 25;
    private const int MostSigns = 500;

    public static bool IsReadable(List<Token<TokenKind>> tokens, SourceText source, DiagnosticBag diagnostics)
    {
        // Most lines are too short for it.
        if (tokens.Count <= Deepest)
        {
            return true;
        }

        var (depth, prefixes, signs) = (0, 0, 0);
        for (var i = 0; i < tokens.Count; i++)
        {
            var token = tokens[i];
            depth += token.Kind switch
            {
                TokenKind.OpenBracket => 1,
                TokenKind.CloseBracket when depth > 0 => -1,
                _ => 0,
            };
            prefixes += IsPrefix(tokens, i) ? 1 : 0;
            signs += IsSign(token) ? 1 : 0;
            if (depth + prefixes > Deepest)
            {
                diagnostics.Report(source, token.Place(), TextMessages.DeepRule(Deepest));
                return false;
            }

            if (signs > MostSigns)
            {
                diagnostics.Report(source, token.Place(), TextMessages.LongRule(MostSigns));
                return false;
            }
        }

        return true;
    }

    /// <summary>What opens something inside: an if, a not, a minus that begins a value.</summary>
    private static bool IsPrefix(List<Token<TokenKind>> tokens, int at)
    {
        var token = tokens[at];
        if (token.Kind == TokenKind.Minus)
        {
            return at > 0
                && tokens[at - 1].Kind is not (TokenKind.Name or TokenKind.Number or TokenKind.CloseBracket);
        }

        return token.Is("if") || token.Is("not");
    }

    private static bool IsSign(Token<TokenKind> token) =>
        token.Kind is TokenKind.Plus or TokenKind.Minus or TokenKind.Times or TokenKind.Slash
        || token.Is("and")
        || token.Is("or");
}
