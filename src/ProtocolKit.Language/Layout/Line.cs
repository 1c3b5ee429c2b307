using ProtocolKit.Language.Lexing;
using Superpower.Model;

namespace ProtocolKit.Language.Layout;

/// <summary>A line with the lines indented under it.</summary>
internal sealed class Line(Token<TokenKind>[] tokens)
{
    private static readonly List<Line> NoLines = [];
    private List<Line>? _children;

    public Token<TokenKind>[] Tokens { get; private set; } = tokens;
    public IReadOnlyList<Line> Children => _children ?? NoLines;
    public Token<TokenKind> First => Tokens[0];
    public Token<TokenKind> Last => Tokens[^1];
    public Place Place => First.Place().To(Last.Place());

    public void Add(Line child) => (_children ??= []).Add(child);

    /// <summary>A text too long for a line goes on in the next one.</summary>
    public void Continue(Token<TokenKind> text) => Tokens = [.. Tokens, text];
}
