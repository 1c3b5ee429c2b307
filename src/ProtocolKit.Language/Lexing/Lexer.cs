using System.Buffers;
using System.Globalization;
using ProtocolKit.Language.Diagnostics;
using Superpower.Model;

namespace ProtocolKit.Language.Lexing;

/// <summary>
/// Cuts a text into lines of tokens in one pass by hand: the builder of the parser library would cost
/// more than all the rest of compiling. Comments and blank lines give no line.
/// </summary>
internal sealed class Lexer
{
    /// <summary>No answer, bound or step needs more, and exact arithmetic on longer ones would only cost time.</summary>
    private const int LongestNumber = 30;

    private static readonly int[] TabWidths = [2, 4, 8];

    private static readonly SearchValues<char> LettersAndDigits = SearchValues.Create(
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
    );

    /// <summary>What needs no second look inside a text.</summary>
    private static readonly SearchValues<char> PlainInText = SearchValues.Create([
        .. Enumerable.Range(' ', '~' - ' ' + 1).Select(c => (char)c).Where(c => c is not ('"' or '\\')),
    ]);

    private readonly SourceText _source;
    private readonly string _text;
    private readonly DiagnosticBag _diagnostics;
    private readonly List<Token<TokenKind>> _tokens = new(16);
    private Stray? _stray;
    private int _at;
    private int _line = 1;
    private int _lineStart;
    private int _indentBefore;

    /// <summary>As an earlier line showed it, or 0.</summary>
    private int _tabWidth;

    public Lexer(SourceText source, DiagnosticBag diagnostics)
    {
        _source = source;
        _text = source.Text;
        _diagnostics = diagnostics;
    }

    /// <summary>The lines that hold something, in order.</summary>
    public List<RawLine> Lines()
    {
        var lines = new List<RawLine>(1 + (_text.Length / 32));
        Lines(lines, _text.Length);
        return lines;
    }

    /// <summary>Some lines of the text only, after those that were read before.</summary>
    /// <param name="from">Where the first of them begins.</param>
    /// <param name="to">Where the line after the last one begins, or the end of the text.</param>
    /// <param name="line">The number of the first.</param>
    public void Lines(List<RawLine> lines, int from, int to, int line)
    {
        (_at, _line) = (from, line);
        Lines(lines, to);
    }

    private void Lines(List<RawLine> lines, int to)
    {
        while (_at < to)
        {
            _lineStart = _at;
            var indent = Indent();
            _tokens.Clear();
            _stray = null;
            while (_at < _text.Length && _text[_at] != '\n')
            {
                Next();
            }

            if (_tokens.Count > 0 && RuleSize.IsReadable(_tokens, _source, _diagnostics))
            {
                lines.Add(new RawLine(indent, _tokens.ToArray(), _stray));
            }

            _at++;
            _line++;
        }
    }

    private int Indent()
    {
        var start = _at;
        var tabs = 0;
        while (_at < _text.Length && _text[_at] is ' ' or '\t')
        {
            tabs += _text[_at] == '\t' ? 1 : 0;
            _at++;
            if (_at == _text.Length)
            {
                break;
            }
        }

        var spaces = _at - start - tabs;
        if (tabs > 0)
        {
            var first = _text.AsSpan(start).IndexOf('\t');
            var meant = Meant(spaces, tabs);
            spaces = meant.Count > 0 ? meant[0] : spaces + (2 * tabs);
            _diagnostics.Report(
                _source,
                PlaceAt(start + first, 1),
                TextMessages.TabIndent(meant.Count > 0 ? meant : [spaces]) with
                {
                    EditAt = PlaceAt(start, _at - start),
                }
            );
        }

        if (_at < _text.Length && _text[_at] is not ('\n' or '\r' or '#'))
        {
            _indentBefore = spaces;
        }

        return spaces;
    }

    /// <summary>
    /// Tabs are two, four or eight columns wide, as an editor was set up. Those widths can be meant that bring the line no deeper
    /// than one level under the line before it; once a line has shown how wide they are, they are so in all others.
    /// </summary>
    private List<int> Meant(int spaces, int tabs)
    {
        var widths =
            _tabWidth > 0
                ? [_tabWidth]
                : TabWidths.Where(w => spaces + (w * tabs) <= _indentBefore + 2).ToList();
        _tabWidth = widths.Count == 1 ? widths[0] : _tabWidth;
        return [.. widths.Select(w => spaces + (w * tabs))];
    }

    private void Next()
    {
        var c = _text[_at];
        switch (c)
        {
            case ' ':
                _at++;
                break;
            case '\r' when _at + 1 == _text.Length || _text[_at + 1] == '\n':
                _at++;
                break;
            case '#':
                SkipToEndOfLine();
                break;
            case '"':
                Text();
                break;
            case '\t':
                _diagnostics.Report(_source, PlaceAt(_at, 1), TextMessages.Tab());
                _at++;
                break;
            default:
                Word(c);
                break;
        }
    }

    private void Word(char c)
    {
        if (IsLetter(c))
        {
            Name();
        }
        else if (char.IsAsciiDigit(c))
        {
            Number();
        }
        else if (Quotes.IsOther(c) && Quotes.EndOf(_text, _at) is var end and > 0)
        {
            OtherQuotes(end);
        }
        else
        {
            Sign(c);
        }
    }

    private void SkipToEndOfLine()
    {
        while (_at < _text.Length && _text[_at] != '\n')
        {
            _at++;
        }
    }

    /// <summary>Words joined by hyphens and dots; a hyphen or dot belongs to it only between letters or digits.</summary>
    private void Name()
    {
        var start = _at;
        Skip(LettersAndDigits);
        while (_at < _text.Length && ContinuesName(start))
        {
            _at++;
            Skip(LettersAndDigits);
        }

        Push(TokenKind.Name, start);
    }

    private void Skip(SearchValues<char> plain)
    {
        var length = _text.AsSpan(_at).IndexOfAnyExcept(plain);
        _at = length < 0 ? _text.Length : _at + length;
    }

    private bool ContinuesName(int start)
    {
        var c = _text[_at];
        if (IsLetter(c) || char.IsAsciiDigit(c))
        {
            return true;
        }

        return c is '-' or '.' or '_'
            && _at > start
            && _at + 1 < _text.Length
            && (IsLetter(_text[_at + 1]) || char.IsAsciiDigit(_text[_at + 1]));
    }

    /// <summary>Letters of any language stay together; a name that holds other than a to z is refused where it is declared.</summary>
    private static bool IsLetter(char c) =>
        char.IsAsciiLetter(c)
        || (c > 127 && (char.IsLetter(c) || char.GetUnicodeCategory(c) == UnicodeCategory.NonSpacingMark));

    private void Number()
    {
        var start = _at;
        Digits();
        var kind = TokenKind.Number;
        if (At('.') && DigitAt(_at + 1))
        {
            _at++;
            Digits();
        }
        else if (At(';') && DigitAt(_at + 1))
        {
            _at++;
            Digits();
            kind = TokenKind.Age;
        }

        Push(kind, start);
        if (_at - start > LongestNumber)
        {
            _diagnostics.Report(_source, PlaceAt(start, _at - start), TextMessages.LongNumber(LongestNumber));
        }

        if (_at < _text.Length && char.IsAsciiLetter(_text[_at]))
        {
            var end = _at;
            while (end < _text.Length && char.IsAsciiLetterOrDigit(_text[end]))
            {
                end++;
            }

            _diagnostics.Report(
                _source,
                PlaceAt(start, end - start),
                TextMessages.NumberTouchesWord(_text[start.._at], _text[_at..end])
            );
        }
    }

    private void Digits()
    {
        while (_at < _text.Length && char.IsAsciiDigit(_text[_at]))
        {
            _at++;
        }
    }

    private bool At(char c) => _at < _text.Length && _text[_at] == c;

    private bool DigitAt(int index) => index < _text.Length && char.IsAsciiDigit(_text[index]);

    private void Text()
    {
        var start = _at;
        var stray = -1;
        _at++;
        Skip(PlainInText);
        while (_at < _text.Length && _text[_at] is not ('"' or '\n'))
        {
            if (_text[_at] == '\\' && _at + 1 < _text.Length && _text[_at + 1] is '"' or '\\')
            {
                _at++;
            }
            else if (stray < 0 && IsNoText(_at))
            {
                stray = _at;
            }

            _at++;
            Skip(PlainInText);
        }

        if (stray >= 0)
        {
            _diagnostics.Report(
                _source,
                PlaceAt(stray, 1),
                TextMessages.StrayCharacter(_text[stray].ToString())
            );
        }

        if (At('"'))
        {
            _at++;
            Push(TokenKind.Text, start);
            return;
        }

        _diagnostics.Report(_source, PlaceAt(start, 1), TextMessages.OpenText());
        Push(TokenKind.Text, start);
    }

    /// <summary>Control characters and halves of characters; the return before a line's end is none of them.</summary>
    private bool IsNoText(int at)
    {
        var c = _text[at];
        if (char.IsControl(c))
        {
            return c != '\r' || (at + 1 < _text.Length && _text[at + 1] != '\n');
        }

        var isHigh = char.IsHighSurrogate(c) && at + 1 < _text.Length && char.IsLowSurrogate(_text[at + 1]);
        var isLow = char.IsLowSurrogate(c) && at > 0 && char.IsHighSurrogate(_text[at - 1]);
        return char.IsSurrogate(c) && !isHigh && !isLow;
    }

    /// <summary>A text in other quotes than plain double ones: one mistake, and read as the text it is meant to be.</summary>
    private void OtherQuotes(int end)
    {
        var start = _at;
        _at = end;
        _diagnostics.Report(
            _source,
            PlaceAt(start, end - start),
            TextMessages.OtherQuotes(_text[(start + 1)..(end - 1)])
        );
        Push(TokenKind.Text, start);
    }

    private void Sign(char c)
    {
        var start = _at;
        var next = _at + 1 < _text.Length ? _text[_at + 1] : '\0';
        var (kind, length) = (c, next) switch
        {
            (',', _) => (TokenKind.Comma, 1),
            ('(', _) => (TokenKind.OpenBracket, 1),
            (')', _) => (TokenKind.CloseBracket, 1),
            ('+', _) => (TokenKind.Plus, 1),
            ('-', _) => (TokenKind.Minus, 1),
            ('*', _) => (TokenKind.Times, 1),
            ('/', _) => (TokenKind.Slash, 1),
            ('=', _) => (TokenKind.Equals, 1),
            ('<', '>') => (TokenKind.NotEquals, 2),
            ('<', '=') => (TokenKind.AtMost, 2),
            ('<', _) => (TokenKind.Less, 1),
            ('>', '=') => (TokenKind.AtLeast, 2),
            ('>', _) => (TokenKind.Greater, 1),
            _ => (TokenKind.Stray, char.IsHighSurrogate(c) && char.IsLowSurrogate(next) ? 2 : 1),
        };
        _at += length;
        if (kind == TokenKind.Stray)
        {
            _stray ??= new Stray(
                PlaceAt(start, length),
                TextMessages.StrayCharacter(_text.Substring(start, length))
            );
        }

        Push(kind, start);
    }

    private void Push(TokenKind kind, int start)
    {
        var position = new Position(start, _line, start - _lineStart + 1);
        _tokens.Add(new Token<TokenKind>(kind, new TextSpan(_text, position, _at - start)));
    }

    private Place PlaceAt(int index, int length) => new(_line, index - _lineStart + 1, length);
}

/// <summary>A line that holds something: the width of its indentation and its tokens, at least one.</summary>
/// <param name="Stray">The first character that means nothing, told unless the line's own message says it better.</param>
internal readonly record struct RawLine(int Indent, Token<TokenKind>[] Tokens, Stray? Stray);

internal sealed record Stray(Place Place, Message Message);
