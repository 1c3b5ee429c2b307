using System.Diagnostics;

namespace ProtocolKit.Benchmarks.Ratios;

/// <summary>Medians of two actions run in turn, so that a busy machine disturbs both alike.</summary>
internal static class Median
{
    /// <returns>Milliseconds of each, and the ratio of the first to the second.</returns>
    public static (double First, double Second, double Ratio) InTurn(
        Action first,
        Action second,
        int runs,
        int warmUps
    )
    {
        for (var i = 0; i < warmUps; i++)
        {
            first();
            second();
        }

        var (a, b) = (new double[runs], new double[runs]);
        for (var i = 0; i < runs; i++)
        {
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
