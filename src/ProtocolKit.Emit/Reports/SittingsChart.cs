using System.Globalization;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Reports;

/// <summary>
/// The value of each sitting with a bar of its error. Bars reach 1.96 / √2 standard errors to each side, so that two bars that
/// don't touch are two sittings that differ by more than their error, and picture and answer agree. Source of the width: Goldstein
/// and Healy (1995), J R Stat Soc A 158:175-177, from memory.
/// </summary>
internal static class SittingsChart
{
    private const int Width = 640;
    private const int Height = 250;
    private const int Left = 60;
    private const int Right = 20;
    private const int Top = 14;
    private const int Bottom = 34;
    private const int MostTicks = 6;

    /// <summary>1.96 / √2.</summary>
    private const double BarHalf = 1.96 / 1.4142135623730951;

    public static ChartView Of(IReadOnlyList<EvidenceFact> sittings, ReTestValue value)
    {
        var half = BarHalf * Number(value.ReTest.Error);
        var known = value
            .Known.Select(k =>
                k is { } v ? (Low: Number(v.Low), High: Number(v.High)) : ((double Low, double High)?)null
            )
            .ToList();
        var ends = known.OfType<(double Low, double High)>().ToList();
        var scale = new Scale(ends.Min(e => e.Low) - half, ends.Max(e => e.High) + half);
        var (lines, marks, texts) = (new List<ChartLine>(), new List<ChartMark>(), new List<ChartText>());
        Axis(scale, value, lines, texts);
        for (var i = 0; i < sittings.Count; i++)
        {
            var x = Left + ((Width - Left - Right) * ((2 * i) + 1) / (2 * sittings.Count));
            texts.Add(new(x, Height - 12, "middle", sittings[i].Name));
            if (known[i] is { } at)
            {
                Draw(x, at, half, scale, lines, marks);
            }
            else
            {
                texts.Add(new(x, (Top + Height - Bottom) / 2, "middle", "no value"));
            }
        }

        return new(
            $"{value.ReTest.Outcome.Title}: bars that don’t touch differ by more than the error",
            InWords(sittings, value),
            Width,
            Height,
            lines,
            [],
            marks,
            texts
        );
    }

    private static void Draw(
        int x,
        (double Low, double High) at,
        double half,
        Scale scale,
        List<ChartLine> lines,
        List<ChartMark> marks
    )
    {
        var (low, high) = (scale.Y(at.Low - half), scale.Y(at.High + half));
        lines.Add(new(x, low, x, high, "solid"));
        lines.Add(new(x - 9, low, x + 9, low, "solid"));
        lines.Add(new(x - 9, high, x + 9, high, "solid"));
        if (at.Low == at.High)
        {
            marks.Add(new(x, scale.Y(at.Low), 6, "full"));
        }
        else
        {
            lines.Add(new(x, scale.Y(at.Low), x, scale.Y(at.High), "thick"));
        }
    }

    private static void Axis(Scale scale, ReTestValue value, List<ChartLine> lines, List<ChartText> texts)
    {
        foreach (var tick in scale.Ticks())
        {
            lines.Add(new(Left, scale.Y(tick), Width - Right, scale.Y(tick), "grid"));
            texts.Add(
                new(
                    Left - 8,
                    scale.Y(tick) + 4,
                    "end",
                    Math.Round(tick, 6).ToString("0.######", CultureInfo.InvariantCulture)
                )
            );
        }

        lines.Add(new(Left, Top, Left, Height - Bottom, "axis"));
        lines.Add(new(Left, Height - Bottom, Width - Right, Height - Bottom, "axis"));
        var unit = value.ReTest.Outcome.Unit;
        texts.Add(new(14, (Top + Height - Bottom) / 2, "middle", unit.IsPure ? "points" : unit.Symbol, -90));
    }

    private static string InWords(IReadOnlyList<EvidenceFact> sittings, ReTestValue value)
    {
        var unit = value.ReTest.Outcome.Unit.IsPure ? "" : $" {value.ReTest.Outcome.Unit.Symbol}";
        var told = sittings.Zip(
            value.Known,
            (s, k) =>
                k is not { } v ? $"{s.Name} no value"
                : v.Low == v.High ? $"{s.Name} {v.Low}{unit}"
                : $"{s.Name} between {v.Low} and {v.High}{unit}"
        );
        return $"{string.Join("; ", told)}. Standard error of one sitting {value.ReTest.Error}{unit}.";
    }

    private static double Number(Rational value) => (double)value.Numerator / (double)value.Denominator;

    /// <summary>Steps of 1, 2 or 5 times a power of ten.</summary>
    private sealed class Scale
    {
        private static readonly int[] Steps = [1, 2, 5, 10];
        private readonly double _low;
        private readonly double _high;
        private readonly double _step;

        public Scale(double low, double high)
        {
            var size = Math.Pow(10, Math.Floor(Math.Log10((high - low) / MostTicks)));
            _step = Steps.Select(s => s * size).First(s => (high - low) / s <= MostTicks);
            _low = Math.Floor(low / _step) * _step;
            _high = Math.Ceiling(high / _step) * _step;
        }

        public int Y(double value) =>
            Height - Bottom - (int)Math.Round((value - _low) / (_high - _low) * (Height - Top - Bottom));

        public IEnumerable<double> Ticks() =>
            Enumerable.Range(0, (int)Math.Round((_high - _low) / _step) + 1).Select(i => _low + (i * _step));
    }
}
