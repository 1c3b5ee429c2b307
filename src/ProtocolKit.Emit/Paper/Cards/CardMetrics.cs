using System.Globalization;

namespace ProtocolKit.Emit.Paper.Cards;

/// <summary>
/// The sizes of a card, in points and millimetres: the style sheet prints them and the packing counts with
/// them, so that what is counted is what is printed.
/// </summary>
internal static class CardMetrics
{
    public const double TitleSize = 14;
    public const double SpokenSize = 17;
    public const double TextSize = 12;
    public const double Gap = 1.2;

    /// <summary>As a multiple of the size; tighter than on the sheet, where hands write between the lines.</summary>
    public const double LineHeight = 1.2;
    public const double Hang = 7;
    public const double DashHang = 4.5;
    public const string Dash = "–";
    public const double Number = 11;
    public const double Foot = 5.6;

    /// <summary>A longer title is cut in the heading and printed whole below it.</summary>
    public const int LongestTitle = 70;

    public static CardMetricsView View(PaperGeometry paper) =>
        new(
            paper.CssSize,
            PaperGeometry.Css(paper.Width),
            PaperGeometry.Css(paper.Height),
            PaperGeometry.Css(paper.CardWidth),
            PaperGeometry.Css(paper.CardHeight),
            PaperGeometry.Css(PaperGeometry.CardMargin),
            Points(TitleSize),
            Points(SpokenSize),
            Points(TextSize),
            PaperGeometry.Css(Gap),
            PaperGeometry.Css(Hang),
            PaperGeometry.Css(DashHang),
            PaperGeometry.Css(Number),
            PaperGeometry.Css(Foot),
            LineHeight.ToString(CultureInfo.InvariantCulture)
        );

    public static double HangOf(string mark) => mark == Dash ? DashHang : Hang;

    public static double TextWidth(PaperGeometry paper) => paper.CardWidth - (2 * PaperGeometry.CardMargin);

    /// <summary>What is left for text below the heading and above the foot.</summary>
    public static double Room(PaperGeometry paper, string title)
    {
        var lines = TextMeasure.Lines(title, TitleSize, TextWidth(paper) - Number, bold: true);
        var head = Height(lines, TitleSize) + Height(1, TextSize) + 4.5;
        return paper.CardHeight - (2 * PaperGeometry.CardMargin) - head - Foot;
    }

    public static double Height(int lines, double points) => TextMeasure.Height(lines, points, LineHeight);

    private static string Points(double size) =>
        string.Create(CultureInfo.InvariantCulture, $"{size:0.##}pt");
}

/// <summary>Lengths as a style sheet wants them.</summary>
/// <param name="Paper">As a style sheet names it.</param>
/// <param name="PageWidth">A length.</param>
/// <param name="PageHeight">A length.</param>
/// <param name="CardWidth">A quarter of the page, a length.</param>
/// <param name="CardHeight">A quarter of the page, a length.</param>
/// <param name="Margin">Kept clear for laminating, a length.</param>
/// <param name="TitleSize">Of letters, in points.</param>
/// <param name="SpokenSize">Of words to say, in points.</param>
/// <param name="TextSize">Of all other letters, in points.</param>
/// <param name="Gap">Between blocks, a length.</param>
/// <param name="Hang">From a mark to its text, a length.</param>
/// <param name="DashHang">From a dash to its text, a length.</param>
/// <param name="Number">Room for the task’s number, a length.</param>
/// <param name="Foot">Room for the foot, a length.</param>
/// <param name="LineHeight">A multiple of the letters’ size.</param>
public sealed record CardMetricsView(
    string Paper,
    string PageWidth,
    string PageHeight,
    string CardWidth,
    string CardHeight,
    string Margin,
    string TitleSize,
    string SpokenSize,
    string TextSize,
    string Gap,
    string Hang,
    string DashHang,
    string Number,
    string Foot,
    string LineHeight
);
