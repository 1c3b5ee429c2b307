using ProtocolKit.Language.Lexing;
using Superpower.Model;

namespace ProtocolKit.Language.Layout;

/// <summary>A line with the lines indented under it.</summary>
internal sealed class Line(Token<TokenKind>[] tokens, Stray? stray = null)
{
    private static readonly List<Line> NoLines = [];
    private List<Line>? _children;
    private List<Token<TokenKind>>? _continued;

    /// <summary>Its own pieces and the texts that continue it.</summary>
    public Token<TokenKind>[] Tokens
    {
        get
        {
            if (_continued is not null)
            {
                tokens = [.. tokens, .. _continued];
                _continued = null;
            }

            return tokens;
        }
    }

    /// <summary>A line at the margin with more levels under it than any statement has; it was reported.</summary>
    public bool IsTooDeep { get; set; }

    /// <summary>Its first word can't stand in its column; it is where that may have been meant, and its reader says so.</summary>
    public bool IsMisplaced { get; set; }
    public Stray? Stray => stray;
    public IReadOnlyList<Line> Children => _children ?? NoLines;
    public Token<TokenKind> First => tokens[0];

    /// <summary>What its first piece says.</summary>
    public ReadOnlySpan<char> Word =>
        First.Span.Source.AsSpan(First.Span.Position.Absolute, First.Span.Length);
    public Token<TokenKind> Last => _continued is null ? tokens[^1] : _continued[^1];
    public Place Place => First.Place().To(Last.Place());

    public void Add(Line child) => (_children ??= []).Add(child);

    /// <summary>A text too long for a line goes on in the next one.</summary>
    public void Continue(Token<TokenKind> text) => (_continued ??= []).Add(text);
}
