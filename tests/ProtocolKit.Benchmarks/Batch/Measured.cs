using System.Diagnostics;

namespace ProtocolKit.Benchmarks.Batch;

/// <summary>What one run took, in seconds: on the clock, and of all processors together. The second counts no other work on the machine.</summary>
internal sealed record Measured(double Wall, double Processor)
{
    public static Measured Of(Action action)
    {
        GC.Collect();
        GC.WaitForPendingFinalizers();
        using var self = Process.GetCurrentProcess();
        var (start, watch) = (self.TotalProcessorTime, Stopwatch.StartNew());
        action();
        var wall = watch.Elapsed.TotalSeconds;
        self.Refresh();
        return new Measured(wall, (self.TotalProcessorTime - start).TotalSeconds);
    }

    /// <summary>The runs with the median processor time of two actions that take turns.</summary>
    public static (Measured First, Measured Second) InTurn(int runs, Action first, Action second)
    {
        first();
        second();
        var both = Enumerable.Range(0, runs).Select(_ => (Of(first), Of(second))).ToList();
        return (Median(both.Select(b => b.Item1)), Median(both.Select(b => b.Item2)));
    }

    private static Measured Median(IEnumerable<Measured> runs)
    {
        var sorted = runs.OrderBy(r => r.Processor).ToList();
        return sorted[sorted.Count / 2];
    }
}
