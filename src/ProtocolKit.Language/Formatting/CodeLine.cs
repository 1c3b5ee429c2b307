using ProtocolKit.Language.Lexing;
using Superpower.Model;

namespace ProtocolKit.Language.Formatting;

/// <summary>One written line that holds something: its pieces, the spaces between them, the comment at its end.</summary>
internal sealed class CodeLine
{
    private readonly string _text;

    public CodeLine(
        SourceText source,
        Token<TokenKind>[] tokens,
        int column,
        bool isContinuation,
        bool hasMore
    )
    {
        _text = source.Text;
        Tokens = tokens;
        Column = column;
        IsContinuation = isContinuation;
        HasMore = hasMore;
        Gaps = new int[tokens.Length];
        for (var i = 1; i < tokens.Length; i++)
        {
            Gaps[i] = Spacing.Between(tokens[i - 1], tokens[i]);
        }
    }

    public int Number => Tokens[0].Span.Position.Line;
    public Token<TokenKind>[] Tokens { get; }

    /// <summary>Spaces before the line.</summary>
    public int Column { get; }

    /// <summary>A text that goes on from the line above.</summary>
    public bool IsContinuation { get; }

    /// <summary>It has lines indented under it, or goes on in the next one.</summary>
    public bool HasMore { get; }

    /// <summary>Spaces before each piece but the first.</summary>
    public int[] Gaps { get; }

    public string Piece(int index) => Tokens[index].ToStringValue();

    public bool BeginsWith(TokenKind kind) => Tokens[0].Kind == kind;

    /// <summary>Spaces before a piece as they were written; a tab between words counts as two.</summary>
    public int WrittenGap(int index)
    {
        var gap = _text.AsSpan(
            Tokens[index - 1].End(),
            Tokens[index].Span.Position.Absolute - Tokens[index - 1].End()
        );
        return gap.Length + gap.Count('\t');
    }

    /// <summary>Columns from the start of one piece to the end of another, as it will be written.</summary>
    public int WidthOf(int first, int last)
    {
        var width = Tokens[first].Span.Length;
        for (var i = first + 1; i <= last; i++)
        {
            width += Gaps[i] + Tokens[i].Span.Length;
        }

        return width;
    }

    /// <param name="rest">What stands behind the last piece: a comment, or nothing.</param>
    public string Write(string rest)
    {
        var text = new System.Text.StringBuilder().Append(' ', Column);
        for (var i = 0; i < Tokens.Length; i++)
        {
            text.Append(' ', Gaps[i]).Append(_text, Tokens[i].Span.Position.Absolute, Tokens[i].Span.Length);
        }

        return rest.Length == 0 ? text.ToString() : text.Append("  ").Append(rest).ToString();
    }
}
