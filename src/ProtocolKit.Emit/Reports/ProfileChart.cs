using System.Globalization;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Reports;

/// <summary>
/// Section scores one below the other, each on its own range with the cut-offs of the child's age: the worst at the left, the best
/// at the right. A known value is a full circle, a value that untried parts leave open a bar between two ends. Read by shape alone.
/// </summary>
internal static class ProfileChart
{
    private const int Width = 700;
    private const int RowHeight = 48;
    private const int Top = 8;
    private const int Left = 150;
    private const int Right = 470;
    private const int Bar = 16;
    private const int LabelLength = 22;
    private const int SaysLength = 30;

    public static ChartView Of(IReadOnlyList<ProfileRow> rows)
    {
        var (lines, marks, texts) = (new List<ChartLine>(), new List<ChartMark>(), new List<ChartText>());
        for (var i = 0; i < rows.Count; i++)
        {
            Draw(rows[i], Top + (i * RowHeight), lines, marks, texts);
        }

        return new(
            "Section scores with the cut-offs of this age, worst at the left",
            InWords(rows),
            Width,
            Top + (rows.Count * RowHeight),
            lines,
            [],
            marks,
            texts
        );
    }

    /// <summary>All that the drawing shows, for who can't see it.</summary>
    public static string InWords(IEnumerable<ProfileRow> rows) => string.Join(" ", rows.Select(InWords));

    private static string InWords(ProfileRow row)
    {
        var bands = row.Bands.Select(b => $"{b.Text} {Ends(b)}");
        return $"{row.Title}: {row.Value}, {row.Band}; {string.Join(", ", bands)}.";
    }

    private static void Draw(
        ProfileRow row,
        int top,
        List<ChartLine> lines,
        List<ChartMark> marks,
        List<ChartText> texts
    )
    {
        var (above, below) = (top + 10, top + 10 + Bar);
        lines.Add(new(Left, above, Right, above, "solid"));
        lines.Add(new(Left, below, Right, below, "solid"));
        lines.Add(new(Left, above, Left, below, "solid"));
        lines.Add(new(Right, above, Right, below, "solid"));
        texts.Add(new(Left - 8, above + 13, "end", Cut(row.Title, LabelLength)));
        texts.Add(new(Right + 10, above + 7, "start", Cut(row.Value, SaysLength)));
        texts.Add(new(Right + 10, above + 22, "start", Cut(row.Band, SaysLength)));
        for (var i = 0; i < row.Bands.Count; i++)
        {
            var (from, to) = Zone(row, i);
            if (i > 0)
            {
                lines.Add(new(from, above, from, below, "solid"));
            }

            texts.Add(new((from + to) / 2, below + 13, "middle", Ends(row.Bands[i])));
        }

        Value(row, (above + below) / 2, lines, marks);
    }

    private static void Value(ProfileRow row, int y, List<ChartLine> lines, List<ChartMark> marks)
    {
        if (row.Low is not { } low || row.High is not { } high)
        {
            return;
        }

        var (from, to) = (X(row, low), X(row, high));
        if (low == high)
        {
            marks.Add(new(from, y, 7, "full"));
            return;
        }

        lines.Add(new(from, y, to, y, "thick"));
        lines.Add(new(from, y - 8, from, y + 8, "thick"));
        lines.Add(new(to, y - 8, to, y + 8, "thick"));
    }

    /// <summary>From half way to the band before to half way to the next, so that values lie inside their band.</summary>
    private static (int From, int To) Zone(ProfileRow row, int at)
    {
        var from = at == 0 ? Left : Between(row, row.Bands[at - 1], row.Bands[at]);
        var to = at == row.Bands.Count - 1 ? Right : Between(row, row.Bands[at], row.Bands[at + 1]);
        return (from, to);
    }

    private static int Between(ProfileRow row, ProfileBand worse, ProfileBand better)
    {
        var half = new Rational(1, 2);
        return X(
            row,
            row.Worst < row.Best ? (worse.To + better.From) * half : (worse.From + better.To) * half
        );
    }

    /// <summary>Half a circle is kept free at both ends.</summary>
    private static int X(ProfileRow row, Rational value)
    {
        var part = (value - row.Worst) / (row.Best - row.Worst);
        var clamped =
            part < Rational.Zero ? 0
            : part > Rational.One ? 1
            : (double)part.Numerator / (double)part.Denominator;
        return Left + 12 + (int)Math.Round(clamped * (Right - Left - 24));
    }

    private static string Ends(ProfileBand band) =>
        band.From == band.To ? band.From.ToString() : $"{band.From} to {band.To}";

    private static string Cut(string text, int length)
    {
        var elements = new StringInfo(text);
        return elements.LengthInTextElements <= length
            ? text
            : elements.SubstringByTextElements(0, length) + "…";
    }
}
