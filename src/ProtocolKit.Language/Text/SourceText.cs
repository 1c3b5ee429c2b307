using ProtocolKit.Model;

namespace ProtocolKit.Language;

/// <summary>A protocol's or module's text with the name people know it by.</summary>
public sealed class SourceText
{
    private int[]? _lineStarts;

    /// <param name="name">Shown in messages: a file name, never a whole path of a machine.</param>
    /// <param name="text">A byte-order mark at the start is dropped.</param>
    public SourceText(string name, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        Name = name;
        Text = text.Length > 0 && text[0] == '\uFEFF' ? text[1..] : text;
    }

    public string Name { get; }
    public string Text { get; }

    /// <summary>The same text, its lines under the numbers under which they are read.</summary>
    /// <param name="now">By number (0 is none): the line of this text.</param>
    internal SourceText Numbered(IReadOnlyList<int> now)
    {
        var starts = FindLineStarts();
        return new SourceText(Name, Text)
        {
            _lineStarts = [.. now.Skip(1).Select(line => starts[Math.Clamp(line, 1, starts.Length) - 1])],
        };
    }

    /// <summary>The text of a line, counted from 1, without its end; empty beyond the last.</summary>
    public string Line(int number) => LineSpan(number).ToString();

    /// <summary>The same without a copy: lines of hostile texts are long.</summary>
    public ReadOnlySpan<char> LineSpan(int number)
    {
        var starts = _lineStarts ??= FindLineStarts();
        if (number < 1 || number > starts.Length)
        {
            return [];
        }

        var rest = Text.AsSpan(starts[number - 1]);
        var end = rest.IndexOf('\n');
        return (end < 0 ? rest : rest[..end]).TrimEnd("\n\r");
    }

    /// <summary>Where a place begins, counted from 0 in UTF-16 characters; -1 outside the text.</summary>
    public int OffsetOf(Place place)
    {
        var starts = _lineStarts ??= FindLineStarts();
        return place.Line < 1 || place.Line > starts.Length ? -1 : starts[place.Line - 1] + place.Column - 1;
    }

    public Origin OriginOf(Place place) => new(Name, place.Line, place.Column, place.Length);

    private int[] FindLineStarts()
    {
        var starts = new List<int> { 0 };
        for (var i = 0; i < Text.Length; i++)
        {
            if (Text[i] == '\n')
            {
                starts.Add(i + 1);
            }
        }

        return [.. starts];
    }
}

/// <summary>A place in one text: line and column from 1, length in UTF-16 characters.</summary>
public readonly record struct Place(int Line, int Column, int Length)
{
    /// <summary>From the start of this place to the end of another on the same line.</summary>
    public Place To(Place end) =>
        Line == end.Line ? this with { Length = end.Column + end.Length - Column } : this;
}
