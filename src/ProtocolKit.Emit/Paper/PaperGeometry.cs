using System.Globalization;

namespace ProtocolKit.Emit.Paper;

/// <summary>Sizes of a sheet of paper and of what may be written on, in millimetres.</summary>
public sealed record PaperGeometry(string CssSize, double Width, double Height)
{
    /// <summary>Clear at the top for the clip of a board.</summary>
    public const double ClipMargin = 25;

    public const double SideMargin = 12;

    /// <summary>Holds the footer of every page.</summary>
    public const double FootMargin = 25;

    /// <summary>Kept clear on every edge of a card, so that laminating cuts nothing.</summary>
    public const double CardMargin = 6;

    public static PaperGeometry Of(PaperSize size) =>
        size == PaperSize.Letter ? new("letter", 215.9, 279.4) : new("A4", 210, 297);

    public double ContentWidth => Width - (2 * SideMargin);

    public double ContentHeight => Height - ClipMargin - FootMargin;

    /// <summary>A quarter of the sheet: A6 of A4.</summary>
    public double CardWidth => Width / 2;

    public double CardHeight => Height / 2;

    /// <summary>As a style sheet wants it.</summary>
    public static string Css(double millimetres) =>
        string.Create(CultureInfo.InvariantCulture, $"{millimetres:0.###}mm");
}
