using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Resampling;

/// <summary>
/// Draws resamples. Each has its own stream of <see cref="SeededGenerator"/>, so the same seed gives the same values in
/// the same order on any number of threads.
/// </summary>
public static class Bootstrap
{
    /// <summary>
    /// A statistic of each resample: it is handed the drawn positions (from 0, with repeats) and must not keep them.
    /// A NaN from it is refused. Progress is told the number done, from any thread.
    /// </summary>
    public static double[] Resample(
        int size,
        int resamples,
        ulong seed,
        Func<int[], double> statistic,
        int threads = 1,
        IProgress<int>? progress = null
    )
    {
        Require.AtLeast(size, 2, "Children to resample");
        Require.AtLeast(resamples, 1, "Resamples");
        var results = new double[resamples];
        var done = 0;
        Parallel.For(
            0,
            resamples,
            new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads) },
            () => new int[size],
            (b, _, drawn) =>
            {
                var generator = new SeededGenerator(seed, (ulong)b);
                for (var i = 0; i < drawn.Length; i++)
                {
                    drawn[i] = generator.NextBelow(size);
                }

                results[b] = statistic(drawn);
                var count = Interlocked.Increment(ref done);
                if (progress is not null && count % 100 == 0)
                {
                    progress.Report(count);
                }

                return drawn;
            },
            _ => { }
        );
        Require.Finite(results, "A resampled statistic");
        return results;
    }

    /// <summary>The statistic of every sample with one left out, in order.</summary>
    public static double[] Jackknife(
        IReadOnlyList<double> values,
        Func<IReadOnlyList<double>, double> statistic
    ) => [.. Enumerable.Range(0, values.Count).Select(i => statistic([.. values.Where((_, j) => j != i)]))];
}
