using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Studies;

/// <summary>Axes with round numbers, and the way from figures to places on the drawing.</summary>
internal sealed class ChartFrame
{
    public const int Width = 640;
    public const int Height = 420;
    private const int Left = 70;
    private const int Right = 24;
    private const int Top = 16;
    private const int Bottom = 56;
    private const int MostTicks = 8;
    private static readonly int[] Steps = [1, 2, 5, 10];

    private readonly (double Low, double High, double Step) _x;
    private readonly (double Low, double High, double Step) _y;

    public ChartFrame(
        double xLow,
        double xHigh,
        double yLow,
        double yHigh,
        string xLabel,
        string yLabel,
        int right = Right
    )
    {
        (_x, _y, RightMargin) = (Round(xLow, xHigh), Round(yLow, yHigh), right);
        Axes(xLabel, yLabel);
    }

    public List<ChartLine> Lines { get; } = [];
    public List<ChartPath> Paths { get; } = [];
    public List<ChartMark> Marks { get; } = [];
    public List<ChartText> Texts { get; } = [];

    public double XLow => _x.Low;
    public double XHigh => _x.High;

    private int RightMargin { get; }

    public int X(double value) => Left + Place(value, _x, Width - Left - RightMargin);

    public int Y(double value) => Height - Bottom - Place(value, _y, Height - Top - Bottom);

    public void Path(IEnumerable<PlotPoint> points, string style) =>
        Paths.Add(
            new ChartPath(
                string.Join(
                    ' ',
                    points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{X(p.X)},{Y(p.Y)}"))
                ),
                style
            )
        );

    /// <summary>A line from side to side.</summary>
    public void Across(double y, string style, string label)
    {
        Lines.Add(new ChartLine(X(_x.Low), Y(y), X(_x.High), Y(y), style));
        Texts.Add(new ChartText(X(_x.High) + 6, Y(y) + 4, "start", label));
    }

    public ChartView View(EvidencePlot plot) =>
        new(plot.Title, plot.InWords, Width, Height, Lines, Paths, Marks, Texts);

    private void Axes(string xLabel, string yLabel)
    {
        foreach (var tick in Ticks(_x))
        {
            Lines.Add(new ChartLine(X(tick), Y(_y.Low), X(tick), Y(_y.High), "grid"));
            Texts.Add(new ChartText(X(tick), Y(_y.Low) + 18, "middle", Number(tick)));
        }

        foreach (var tick in Ticks(_y))
        {
            Lines.Add(new ChartLine(X(_x.Low), Y(tick), X(_x.High), Y(tick), "grid"));
            Texts.Add(new ChartText(X(_x.Low) - 8, Y(tick) + 4, "end", Number(tick)));
        }

        Lines.Add(new ChartLine(X(_x.Low), Y(_y.Low), X(_x.High), Y(_y.Low), "axis"));
        Lines.Add(new ChartLine(X(_x.Low), Y(_y.Low), X(_x.Low), Y(_y.High), "axis"));
        Texts.Add(new ChartText((X(_x.Low) + X(_x.High)) / 2, Height - 12, "middle", xLabel));
        Texts.Add(new ChartText(16, (Y(_y.Low) + Y(_y.High)) / 2, "middle", yLabel, -90));
    }

    private static int Place(double value, (double Low, double High, double Step) axis, int length) =>
        (int)
            Math.Round((Math.Clamp(value, axis.Low, axis.High) - axis.Low) / (axis.High - axis.Low) * length);

    /// <summary>Ends on round numbers: steps of 1, 2 or 5 times a power of ten.</summary>
    private static (double Low, double High, double Step) Round(double low, double high)
    {
        if (high - low < 1e-9)
        {
            (low, high) = (low - 0.5, high + 0.5);
        }

        var size = Math.Pow(10, Math.Floor(Math.Log10((high - low) / MostTicks)));
        var step = Steps.Select(s => s * size).First(s => (high - low) / s <= MostTicks);
        return (Math.Floor((low / step) + 1e-9) * step, Math.Ceiling((high / step) - 1e-9) * step, step);
    }

    private static IEnumerable<double> Ticks((double Low, double High, double Step) axis)
    {
        var count = (int)Math.Round((axis.High - axis.Low) / axis.Step);
        return Enumerable.Range(0, count + 1).Select(i => axis.Low + (i * axis.Step));
    }

    private static string Number(double value) =>
        Math.Round(value, 6).ToString("0.######", CultureInfo.InvariantCulture);
}
