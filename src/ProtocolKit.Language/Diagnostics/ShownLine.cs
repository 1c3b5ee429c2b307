using System.Globalization;
using System.Text;
using Wcwidth;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>
/// A line of a text as a terminal shows it, with a line under it that marks a place. Characters may take two columns, or
/// none; where letters that run from right to left come first, no arrow can be trusted, and the marked words are repeated.
/// </summary>
/// <param name="Marks">Arrows under the place, or the marked words after <c>here:</c>.</param>
internal sealed record ShownLine(string Text, string Marks)
{
    private const int Widest = 160;
    private const string ShownTab = "  ";

    /// <summary>Null for an empty line.</summary>
    public static ShownLine? Of(ReadOnlySpan<char> line, Place place)
    {
        if (line.Length == 0)
        {
            return null;
        }

        var at = Math.Max(0, place.Column - 1);
        var start = line.Length <= Widest ? 0 : Math.Clamp(at - (Widest / 2), 0, line.Length - 1);
        var end = Math.Min(line.Length, start + Widest);
        var before = line[start..Math.Clamp(at, start, end)];
        var marked = line[Math.Clamp(at, start, end)..Math.Clamp(at + place.Length, start, end)];
        var after = line[Math.Clamp(at + place.Length, start, end)..end];
        var (shownBefore, widthBefore) = Show(before);
        var (shownMarked, widthMarked) = Show(marked);
        var text = shownBefore + shownMarked + Show(after).Text;
        var marks =
            RunsLeft(before) || RunsLeft(marked)
                ? $"here: {(shownMarked.Trim().Length > 0 ? shownMarked : "at the end")}"
                : new string(' ', widthBefore) + new string('^', Math.Max(1, widthMarked));
        return new ShownLine(text, marks);
    }

    /// <summary>
    /// A text without what would move the cursor or turn the writing round: control characters become spaces, marks of
    /// direction and joiners vanish.
    /// </summary>
    public static string Clean(ReadOnlySpan<char> text) => Show(text).Text;

    private static (string Text, int Width) Show(ReadOnlySpan<char> text)
    {
        var shown = new StringBuilder(text.Length);
        var width = 0;
        while (text.Length > 0)
        {
            var isWhole =
                Rune.DecodeFromUtf16(text, out var rune, out var used) == System.Buffers.OperationStatus.Done;
            var (part, columns) = isWhole ? Show(rune) : (" ", 1);
            shown.Append(part);
            width += columns;
            text = text[used..];
        }

        return (shown.ToString(), width);
    }

    private static (string Text, int Width) Show(Rune rune) =>
        rune.Value == '\t'
            ? (ShownTab, ShownTab.Length)
            : Rune.GetUnicodeCategory(rune) switch
            {
                UnicodeCategory.Control
                or UnicodeCategory.LineSeparator
                or UnicodeCategory.ParagraphSeparator => (" ", 1),
                UnicodeCategory.Format => ("", 0),
                _ when rune.Value is 0xFE0E or 0xFE0F => ("", 0),
                _ => (rune.ToString(), Math.Max(0, UnicodeCalculator.GetWidth(rune.Value))),
            };

    /// <summary>True where letters of Hebrew, Arabic and other scripts of their direction occur (blocks of the Unicode Standard).</summary>
    private static bool RunsLeft(ReadOnlySpan<char> text)
    {
        foreach (var rune in text.EnumerateRunes())
        {
            if (
                rune.Value
                is (>= 0x0590 and <= 0x08FF)
                    or (>= 0xFB1D and <= 0xFDFF)
                    or (>= 0xFE70 and <= 0xFEFC)
                    or (>= 0x10800 and <= 0x10FFF)
                    or (>= 0x1E800 and <= 0x1EFFF)
            )
            {
                return true;
            }
        }

        return false;
    }
}
