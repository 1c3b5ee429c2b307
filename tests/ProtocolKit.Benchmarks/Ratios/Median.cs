using System.Diagnostics;

namespace ProtocolKit.Benchmarks.Ratios;

/// <summary>Medians of two actions run in turn, so that a busy machine disturbs both alike.</summary>
internal static class Median
{
    /// <param name="before">Done before each run of the first, and not timed.</param>
    /// <returns>Milliseconds of each, and the ratio of the first to the second.</returns>
    public static (double First, double Second, double Ratio) InTurn(
        Action first,
        Action second,
        int runs,
        int warmUps,
        Action? before = null
    )
    {
        for (var i = 0; i < warmUps; i++)
        {
            before?.Invoke();
            first();
            second();
        }

        var (a, b) = (new double[runs], new double[runs]);
        for (var i = 0; i < runs; i++)
        {
            before?.Invoke();
            a[i] = Time(first);
            b[i] = Time(second);
        }

        var (one, two) = (Of(a), Of(b));
        return (one, two, one / two);
    }

    private static double Of(double[] times)
    {
        Array.Sort(times);
        return times[times.Length / 2];
    }

    private static double Time(Action action)
    {
        GC.Collect();
        GC.WaitForPendingFinalizers();
        var watch = Stopwatch.StartNew();
        action();
        return watch.Elapsed.TotalMilliseconds;
    }
}
