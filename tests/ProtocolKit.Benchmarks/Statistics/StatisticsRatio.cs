using System.Diagnostics;
using System.Globalization;
using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Calibration.Resampling;

namespace ProtocolKit.Benchmarks.Statistics;

/// <summary>
/// The statistics beside R in one run: the same data, written for R as text, the median of some runs each, in processor time. Without
/// Rscript, or without one of its packages, our own times alone are printed.
/// </summary>
internal static class StatisticsRatio
{
    public static void Print(TextWriter output, int runs)
    {
        var folder = Directory.CreateTempSubdirectory("statistics").FullName;
        try
        {
            var data = new Data(folder);
            var ours = new Dictionary<string, double>(StringComparer.Ordinal)
            {
                ["roc-delong"] = Median(runs, () => RocCurve.Of(data.Cases, data.Controls).DeLongInterval()),
                ["bootstrap"] = Median(
                    runs,
                    () => RocBootstrap.Of(data.SmallCases, data.SmallControls, 10_000, 1)
                ),
                ["krippendorff"] = Median(
                    runs,
                    () => KrippendorffAlpha.Of(data.Units).Alpha(AlphaMetric.Ordinal)
                ),
                ["icc"] = Median(runs, () => IntraclassCorrelation.Of(data.Ratings)),
            };
            var r = RunR(folder);
            foreach (var (name, time) in ours)
            {
                var beside = r.TryGetValue(name, out var other)
                    ? string.Create(
                        CultureInfo.InvariantCulture,
                        $"R {other * 1000, 10:F1} ms   ratio {other / time, 8:F1}"
                    )
                    : "R not measured";
                output.WriteLine(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{name, -14} ours {time * 1000, 9:F2} ms   {beside}"
                    )
                );
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    private static double Median(int runs, Action action)
    {
        for (var warm = 0; warm < 40; warm++)
        {
            action();
        }

        var times = Enumerable.Range(0, runs).Select(_ => ProcessorTime(action));
        return Descriptive.Median([.. times]);
    }

    /// <summary>Processor seconds of one run, so that other work on the machine doesn't count: as many runs as fill 0.2 s.</summary>
    private static double ProcessorTime(Action action)
    {
        using var self = Process.GetCurrentProcess();
        var (start, done) = (self.TotalProcessorTime, 0);
        do
        {
            action();
            done++;
            self.Refresh();
        } while ((self.TotalProcessorTime - start).TotalSeconds < 0.2);

        return (self.TotalProcessorTime - start).TotalSeconds / done;
    }

    private static Dictionary<string, double> RunR(string folder)
    {
        var script = Path.Combine(AppContext.BaseDirectory, "Statistics", "statistics.R");
        try
        {
            using var process = Process.Start(
                new ProcessStartInfo("Rscript", [script, folder])
                {
                    RedirectStandardOutput = true,
                    RedirectStandardError = true,
                }
            )!;
            process.ErrorDataReceived += (_, _) => { };
            process.BeginErrorReadLine();
            var lines = process.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
            process.WaitForExit();
            return lines
                .Select(l => l.Split(' '))
                .Where(w => w.Length == 2)
                .ToDictionary(
                    w => w[0],
                    w => double.Parse(w[1], CultureInfo.InvariantCulture),
                    StringComparer.Ordinal
                );
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return [];
        }
    }

    private sealed class Data
    {
        private SeededGenerator _generator = new(2026);

        public Data(string folder)
        {
            Cases = Scores(5000, 1);
            Controls = Scores(5000, 0);
            SmallCases = Scores(400, 1);
            SmallControls = Scores(600, 0);
            var units = Table(5000, 50, 5, 0.2);
            var ratings = Table(10_000, 4, 25, 0);
            Units = RatingMatrix.FromRows(units);
            Ratings = RatingMatrix.FromRows(ratings);
            Write(folder, "cases", [Cases]);
            Write(folder, "controls", [Controls]);
            Write(folder, "small-cases", [SmallCases]);
            Write(folder, "small-controls", [SmallControls]);
            File.WriteAllLines(Path.Combine(folder, "units"), units.Select(Line));
            File.WriteAllLines(Path.Combine(folder, "ratings"), ratings.Select(Line));
        }

        public double[] Cases { get; }

        public double[] Controls { get; }

        public double[] SmallCases { get; }

        public double[] SmallControls { get; }

        public RatingMatrix Units { get; }

        public RatingMatrix Ratings { get; }

        private double[] Scores(int count, double shift) =>
            [.. Enumerable.Range(0, count).Select(_ => Math.Round(Normal() + shift, 2))];

        private double Normal() =>
            Distributions.NormalQuantile(Math.Clamp(_generator.NextUnit(), 1e-12, 1 - 1e-12));

        private double?[][] Table(int rows, int columns, int levels, double missing) =>
            [
                .. Enumerable
                    .Range(0, rows)
                    .Select(_ =>
                    {
                        var level = _generator.NextUnit() * levels;
                        return Enumerable
                            .Range(0, columns)
                            .Select(_ => Cell(level, levels, missing))
                            .ToArray();
                    }),
            ];

        private double? Cell(double level, int levels, double missing) =>
            _generator.NextUnit() < missing ? null : Math.Clamp(Math.Floor(level + Normal()), 0, levels - 1);

        private static string Line(double?[] row) =>
            string.Join(' ', row.Select(v => v?.ToString(CultureInfo.InvariantCulture) ?? "NA"));

        private static void Write(string folder, string name, double[][] rows) =>
            File.WriteAllLines(
                Path.Combine(folder, name),
                rows.Select(r => string.Join(' ', r.Select(v => v.ToString(CultureInfo.InvariantCulture))))
            );
    }
}
