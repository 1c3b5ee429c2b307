namespace ProtocolKit.Model;

/// <summary>A picture of figures that also stand in words: <see cref="InWords"/> says all that it shows.</summary>
public abstract record EvidencePlot(string Title, string InWords);

public readonly record struct PlotPoint(double X, double Y);

/// <summary>Sensitivity (up) over false alarms (right), both from 0 to 1.</summary>
/// <param name="Marked">Cuts worth pointing at, with their names.</param>
public sealed record RocPlot(
    string Title,
    string InWords,
    IReadOnlyList<PlotPoint> Curve,
    IReadOnlyList<(PlotPoint At, string Label)> Marked
) : EvidencePlot(Title, InWords);

/// <summary>Differences of two readings over their mean, with bias and limits.</summary>
public sealed record DifferencePlot(
    string Title,
    string InWords,
    string XLabel,
    string YLabel,
    IReadOnlyList<PlotPoint> Points,
    double Bias,
    double Low,
    double High
) : EvidencePlot(Title, InWords);

/// <summary>How often one rater's level met the other's: rows the first rater's, columns the second's.</summary>
public sealed record GridPlot(
    string Title,
    string InWords,
    string RowRater,
    string ColumnRater,
    IReadOnlyList<string> Levels,
    IReadOnlyList<IReadOnlyList<int>> Counts
) : EvidencePlot(Title, InWords);

/// <summary>Items from the easiest to the hardest, on a line from 0 to 1.</summary>
public sealed record ItemMapPlot(
    string Title,
    string InWords,
    string Label,
    IReadOnlyList<(string Item, double At)> Items
) : EvidencePlot(Title, InWords);

/// <summary>Curves over a common axis, each with its name, and points beneath them.</summary>
public sealed record CurvesPlot(
    string Title,
    string InWords,
    string XLabel,
    string YLabel,
    IReadOnlyList<(string Label, IReadOnlyList<PlotPoint> Points)> Curves,
    IReadOnlyList<PlotPoint> Points
) : EvidencePlot(Title, InWords);
