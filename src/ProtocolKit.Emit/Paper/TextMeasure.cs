namespace ProtocolKit.Emit.Paper;

/// <summary>
/// How much room a text takes on paper, estimated on the safe side, so that what doesn't fit is noticed
/// before anything is printed. Widths are those of the common sans-serif faces (Arial, Helvetica and their
/// metric twins), plus <see cref="Reserve"/>.
/// </summary>
public static class TextMeasure
{
    public const double MillimetresPerPoint = 25.4 / 72;

    /// <summary>Line height as a multiple of the size; style sheets use the same.</summary>
    public const double LineHeight = 1.28;

    /// <summary>For faces a little wider, kerning and rounding.</summary>
    private const double Reserve = 1.05;

    // Advance widths of U+0020 to U+007E in thousandths of the size.
    // csharpier-ignore
    private static readonly short[] Regular =
    [
        278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556,
        556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778,
        722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278,
        278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
        556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
    ];

    // csharpier-ignore
    private static readonly short[] Bold =
    [
        278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556,
        556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778,
        722, 278, 556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333,
        278, 333, 584, 556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
        611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
    ];

    /// <summary>The width of a text on one line, in millimetres.</summary>
    public static double Width(string text, double points, bool bold = false)
    {
        double thousandths = 0;
        foreach (var rune in text.EnumerateRunes())
        {
            thousandths += WidthOf(rune.Value, bold);
        }

        return thousandths / 1000 * points * MillimetresPerPoint * Reserve;
    }

    /// <summary>How many lines a text takes; words longer than a line are broken anywhere.</summary>
    /// <param name="width">In millimetres.</param>
    public static int Lines(string text, double points, double width, bool bold = false) =>
        text.Split('\n').Sum(paragraph => Wrap(paragraph, points, width, bold).Count);

    /// <summary>The lines a text takes, as far as it can be known without the printer's own font.</summary>
    public static IReadOnlyList<string> Wrap(string text, double points, double width, bool bold = false)
    {
        var lines = new List<string>();
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var longer = line.Length == 0 ? word : line + " " + word;
            if (Width(longer, points, bold) <= width)
            {
                line = longer;
                continue;
            }

            if (line.Length > 0)
            {
                lines.Add(line);
            }

            line = BreakWord(word, points, width, bold, lines);
        }

        lines.Add(line);
        return lines;
    }

    /// <summary>The height of so many lines, in millimetres.</summary>
    public static double Height(int lines, double points, double lineHeight = LineHeight) =>
        lines * points * lineHeight * MillimetresPerPoint;

    private static string BreakWord(string word, double points, double width, bool bold, List<string> lines)
    {
        while (word.Length > 1 && Width(word, points, bold) > width)
        {
            var cut = FittingLength(word, points, width, bold);
            lines.Add(word[..cut]);
            word = word[cut..];
        }

        return word;
    }

    private static int FittingLength(string word, double points, double width, bool bold)
    {
        double used = 0;
        var length = 0;
        foreach (var rune in word.EnumerateRunes())
        {
            used += Width(rune.ToString(), points, bold);
            if (used > width && length > 0)
            {
                break;
            }

            length += rune.Utf16SequenceLength;
        }

        return Math.Max(1, length);
    }

    /// <summary>Latin, Greek and Cyrillic letters beyond ASCII count as wide ones, all else as a full square.</summary>
    private static int WidthOf(int character, bool bold) =>
        character switch
        {
            >= 0x20 and <= 0x7E => (bold ? Bold : Regular)[character - 0x20],
            < 0x20 or 0x7F => 0,
            <= 0x52F => bold ? 722 : 667,
            0x2018 or 0x2019 or 0x201C or 0x201D or 0x2013 or 0x2022 => 556,
            _ => 1000,
        };
}
