using System.Text;
using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Formatting;

/// <summary>
/// Writes the lines of a text in order: laid out, or left alone; with comments and single blank lines where they were.
/// </summary>
internal sealed class LineWriter(SourceText source, Dictionary<int, CodeLine> lines, Unread unread)
{
    private const int FarthestBack = 200;
    private static readonly char[] Blanks = [' ', '\t', '\r'];
    private readonly string[] _original = source.Text.Split('\n');
    private readonly StringBuilder _text = new(source.Text.Length);
    private readonly List<int> _changed = [];
    private readonly List<int> _waiting = [];
    private readonly List<int> _numbers = [.. lines.Keys.Order()];

    /// <summary>Columns of the comments between two lines that hold something, by their indentation.</summary>
    private readonly Dictionary<int, int> _columns = [];

    public FormattedText Write()
    {
        for (var number = 1; number <= _original.Length; number++)
        {
            var content = _original[number - 1].Trim(Blanks);
            if (unread.Contains(number))
            {
                Blank();
                _text.Append(_original[number - 1]).Append(number < _original.Length ? "\n" : "");
                _columns.Clear();
            }
            else if (content.Length == 0)
            {
                _waiting.Add(number);
            }
            else
            {
                Blank();
                if (lines.TryGetValue(number, out var line))
                {
                    Put(number, line.Write(Rest(line)));
                    _columns.Clear();
                }
                else
                {
                    Put(number, Comment(number, content));
                }
            }
        }

        // The last of these is the nothing that stands behind the last line end.
        _changed.AddRange(_waiting.Where(n => n < _original.Length || _original[n - 1].Length > 0));
        return new FormattedText(_text.ToString(), [.. _changed.Order()], unread.Starts);
    }

    private void Put(int number, string written)
    {
        if (written != _original[number - 1] || number == _original.Length)
        {
            _changed.Add(number);
        }

        _text.Append(written).Append('\n');
    }

    /// <summary>One blank line for several, none at the beginning.</summary>
    private void Blank()
    {
        var kept = _text.Length == 0 ? 0 : Math.Min(1, _waiting.Count);
        _text.Append('\n', kept);
        _changed.AddRange(_waiting.Skip(kept));
        _changed.AddRange(_waiting.Take(kept).Where(n => _original[n - 1].Length > 0));
        _waiting.Clear();
    }

    /// <summary>The comment behind the last piece of a line.</summary>
    private string Rest(CodeLine line)
    {
        var last = line.Tokens[^1];
        var end = last.Span.Position.Column - 1 + last.Span.Length;
        return _original[line.Number - 1][end..].Trim(Blanks);
    }

    private string Comment(int number, string content)
    {
        var indent = IndentOf(number);
        if (!_columns.TryGetValue(indent, out var column))
        {
            column = CommentColumn(number, indent);
            _columns[indent] = column;
        }

        return new string(' ', column) + content;
    }

    /// <summary>
    /// A comment stays with the lines it is written in one column with, of those it could belong to; else it goes with the line
    /// that follows.
    /// </summary>
    private int CommentColumn(int number, int indent)
    {
        var at = _numbers.BinarySearch(number);
        var following = ~at;
        var next = following < _numbers.Count ? lines[_numbers[following]] : null;
        var nextIndent = next is null ? -1 : IndentOf(next.Number);
        if (nextIndent == indent)
        {
            return next!.Column;
        }

        if (following > 0 && nextIndent < indent && IndentOf(_numbers[following - 1]) < indent)
        {
            // Under the line before, as a note to itself.
            return lines[_numbers[following - 1]].Column + 2;
        }

        for (var i = following - 1; i >= Math.Max(0, following - FarthestBack); i--)
        {
            var line = lines[_numbers[i]];
            var column = line.IsContinuation ? int.MaxValue : IndentOf(line.Number);
            if (column == indent && nextIndent < indent)
            {
                return line.Column;
            }

            if (column < indent)
            {
                break;
            }
        }

        return next?.Column ?? 0;
    }

    private int IndentOf(int number)
    {
        var line = _original[number - 1].AsSpan();
        var blanks = line[..^line.TrimStart(" \t").Length];
        return blanks.Length + blanks.Count('\t');
    }
}
