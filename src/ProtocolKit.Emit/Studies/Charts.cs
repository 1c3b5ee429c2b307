using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Studies;

/// <summary>Draws each kind of plot.</summary>
internal static class Charts
{
    private const int LabelHeight = 13;

    private static readonly string[] Styles = ["solid", "dash", "dot", "solid", "dash", "dot", "solid"];

    public static ChartView Of(EvidencePlot plot) =>
        plot switch
        {
            RocPlot roc => Roc(roc),
            DifferencePlot difference => Difference(difference),
            GridPlot grid => Grid(grid),
            ItemMapPlot items => Items(items),
            CurvesPlot curves => Curves(curves),
            _ => throw new ArgumentException($"No chart draws a {plot.GetType().Name}.", nameof(plot)),
        };

    private static ChartView Roc(RocPlot plot)
    {
        var frame = new ChartFrame(
            0,
            1,
            0,
            1,
            "false alarms among children without the need (1 − specificity)",
            "cases found (sensitivity)"
        );
        frame.Path([new PlotPoint(0, 0), new PlotPoint(1, 1)], "dot");
        frame.Path(plot.Curve, "solid");
        foreach (var point in plot.Curve)
        {
            frame.Marks.Add(new ChartMark(frame.X(point.X), frame.Y(point.Y), 2, "full"));
        }

        foreach (var (at, label) in plot.Marked)
        {
            frame.Marks.Add(new ChartMark(frame.X(at.X), frame.Y(at.Y), 7, "ring"));
            frame.Texts.Add(new ChartText(frame.X(at.X) + 12, frame.Y(at.Y) + 14, "start", label));
        }

        return frame.View(plot);
    }

    private static ChartView Difference(DifferencePlot plot)
    {
        var (low, high) = (
            plot.Points.Select(p => p.Y).Append(plot.Low).Append(0).Min(),
            plot.Points.Select(p => p.Y).Append(plot.High).Append(0).Max()
        );
        var frame = new ChartFrame(
            plot.Points.Min(p => p.X),
            plot.Points.Max(p => p.X),
            low,
            high,
            plot.XLabel,
            plot.YLabel,
            right: 130
        );
        frame.Across(plot.High, "dash", "upper limit " + EvidenceCell.Figure(plot.High, 2));
        frame.Across(plot.Bias, "solid", "bias " + EvidenceCell.Figure(plot.Bias, 2));
        frame.Across(plot.Low, "dash", "lower limit " + EvidenceCell.Figure(plot.Low, 2));

        // Children on the same spot are shown by a larger ring, not by a darker one.
        foreach (var spot in plot.Points.GroupBy(p => (X: frame.X(p.X), Y: frame.Y(p.Y))))
        {
            frame.Marks.Add(
                new ChartMark(
                    spot.Key.X,
                    spot.Key.Y,
                    2 + (int)Math.Round(2 * Math.Sqrt(spot.Count())),
                    "ring"
                )
            );
        }

        return frame.View(plot);
    }

    private static ChartView Grid(GridPlot plot)
    {
        const int Cell = 60;
        const int Left = 330;
        const int Top = 70;
        var size = plot.Levels.Count;
        var (lines, marks, texts) = (new List<ChartLine>(), new List<ChartMark>(), new List<ChartText>());
        var most = Math.Max(1, plot.Counts.SelectMany(r => r).DefaultIfEmpty(0).Max());
        for (var i = 0; i <= size; i++)
        {
            lines.Add(new ChartLine(Left, Top + (i * Cell), Left + (size * Cell), Top + (i * Cell), "grid"));
            lines.Add(new ChartLine(Left + (i * Cell), Top, Left + (i * Cell), Top + (size * Cell), "grid"));
        }

        for (var row = 0; row < size; row++)
        {
            texts.Add(
                new ChartText(
                    Left - 8,
                    Top + (row * Cell) + (Cell / 2) + 4,
                    "end",
                    $"{plot.Levels[row]}  {row + 1}"
                )
            );
            texts.Add(
                new ChartText(
                    Left + (row * Cell) + (Cell / 2),
                    Top - 8,
                    "middle",
                    (row + 1).ToString(CultureInfo.InvariantCulture)
                )
            );
            for (var column = 0; column < size; column++)
            {
                var count = plot.Counts[row][column];
                var (x, y) = (Left + (column * Cell) + (Cell / 2), Top + (row * Cell) + (Cell / 2));
                if (count > 0)
                {
                    marks.Add(
                        new ChartMark(x, y, 8 + (int)Math.Round(18 * Math.Sqrt(count / (double)most)), "ring")
                    );
                }

                texts.Add(new ChartText(x, y + 4, "middle", count.ToString(CultureInfo.InvariantCulture)));
            }
        }

        texts.Add(new ChartText(Left + (size * Cell / 2), Top - 34, "middle", plot.ColumnRater));
        texts.Add(new ChartText(16, Top + (size * Cell / 2), "middle", plot.RowRater, -90));
        return new ChartView(
            plot.Title,
            plot.InWords,
            Math.Max(360, Left + (size * Cell) + 20),
            Top + (size * Cell) + 20,
            lines,
            [],
            marks,
            texts
        );
    }

    private static ChartView Items(ItemMapPlot plot)
    {
        const int Row = 22;
        const int Left = 250;
        const int Length = 340;
        var (lines, marks, texts) = (new List<ChartLine>(), new List<ChartMark>(), new List<ChartText>());
        var bottom = 20 + (plot.Items.Count * Row);
        for (var i = 0; i <= 4; i++)
        {
            var x = Left + (i * Length / 4);
            lines.Add(new ChartLine(x, 12, x, bottom, "grid"));
            texts.Add(
                new ChartText(
                    x,
                    bottom + 16,
                    "middle",
                    (i * 0.25).ToString("0.##", CultureInfo.InvariantCulture)
                )
            );
        }

        for (var i = 0; i < plot.Items.Count; i++)
        {
            var (y, x) = (24 + (i * Row), Left + (int)Math.Round(plot.Items[i].At * Length));
            texts.Add(new ChartText(Left - 12, y + 4, "end", plot.Items[i].Item));
            lines.Add(new ChartLine(Left, y, x, y, "solid"));
            marks.Add(new ChartMark(x, y, 5, "full"));
        }

        texts.Add(new ChartText(Left + (Length / 2), bottom + 36, "middle", plot.Label));
        return new ChartView(
            plot.Title,
            plot.InWords,
            Left + Length + 30,
            bottom + 46,
            lines,
            [],
            marks,
            texts
        );
    }

    private static ChartView Curves(CurvesPlot plot)
    {
        var all = plot.Curves.SelectMany(c => c.Points).Concat(plot.Points).ToList();
        var frame = new ChartFrame(
            all.Min(p => p.X),
            all.Max(p => p.X),
            all.Min(p => p.Y),
            all.Max(p => p.Y),
            plot.XLabel,
            plot.YLabel,
            right: 90
        );
        foreach (var spot in plot.Points.GroupBy(p => (X: frame.X(p.X), Y: frame.Y(p.Y))))
        {
            frame.Marks.Add(
                new ChartMark(spot.Key.X, spot.Key.Y, 1 + (int)Math.Round(Math.Sqrt(spot.Count())), "full")
            );
        }

        foreach (var ((_, points), i) in plot.Curves.Select((c, i) => (c, i)))
        {
            frame.Path(points, Styles[i % Styles.Length]);
        }

        frame.Texts.AddRange(CurveLabels(plot, frame));
        return frame.View(plot);
    }

    /// <summary>Names at the curves' right ends; of ends too near each other for two lines the names stand on one: P75, P95.</summary>
    private static IEnumerable<ChartText> CurveLabels(CurvesPlot plot, ChartFrame frame)
    {
        var together = new List<(int X, List<int> Y, List<string> Names)>();
        foreach (
            var (label, x, y) in plot
                .Curves.Where(c => c.Points.Count > 0)
                .Select(c => (c.Label, frame.X(c.Points[^1].X), frame.Y(c.Points[^1].Y)))
                .OrderByDescending(c => c.Item3)
        )
        {
            if (together.Count > 0 && together[^1].Y.Average() - y < LabelHeight)
            {
                together[^1].Y.Add(y);
                together[^1].Names.Add(label);
            }
            else
            {
                together.Add((x, [y], [label]));
            }
        }

        return together.Select(t => new ChartText(
            t.X + 6,
            (int)Math.Round(t.Y.Average()) + 4,
            "start",
            string.Join(", ", t.Names)
        ));
    }
}
