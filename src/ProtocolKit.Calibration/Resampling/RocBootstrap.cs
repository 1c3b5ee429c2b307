using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Resampling;

/// <summary>Area, best Youden index and where it was best, of each resample.</summary>
public sealed record RocResamples(double[] Areas, double[] Youden, double[] Thresholds);

/// <summary>
/// Bootstrap of a curve within cases and within controls. Values are ranked once; a resample is a count of each rank,
/// so one resample costs about as many steps as there are children.
/// </summary>
public static class RocBootstrap
{
    /// <summary>The same seed gives the same bytes on any number of threads. Thresholds are midpoints; the first best one counts.</summary>
    public static RocResamples Of(
        IReadOnlyList<double> cases,
        IReadOnlyList<double> controls,
        int resamples,
        ulong seed,
        CaseDirection direction = CaseDirection.Higher,
        int threads = 1,
        IProgress<int>? progress = null
    )
    {
        Require.AtLeast(cases.Count, 1, "Cases");
        Require.AtLeast(controls.Count, 1, "Controls");
        Require.AtLeast(resamples, 1, "Resamples");
        Require.Finite(cases.Concat(controls), "Scores");
        var sign = direction == CaseDirection.Higher ? 1.0 : -1.0;
        double[] levels = [.. cases.Concat(controls).Select(v => sign * v).Distinct().Order()];
        int[] ofCases = [.. cases.Select(v => Array.BinarySearch(levels, sign * v))];
        int[] ofControls = [.. controls.Select(v => Array.BinarySearch(levels, sign * v))];
        var result = new RocResamples(new double[resamples], new double[resamples], new double[resamples]);
        var done = 0;
        Parallel.For(
            0,
            resamples,
            new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads) },
            () => (Cases: new int[levels.Length], Controls: new int[levels.Length]),
            (b, _, counts) =>
            {
                var generator = new SeededGenerator(seed, (ulong)b);
                Draw(ref generator, ofCases, counts.Cases);
                Draw(ref generator, ofControls, counts.Controls);
                One(b, counts.Cases, counts.Controls, cases.Count, controls.Count, levels, sign, result);
                var count = Interlocked.Increment(ref done);
                if (progress is not null && count % 100 == 0)
                {
                    progress.Report(count);
                }

                return counts;
            },
            _ => { }
        );
        return result;
    }

    private static void Draw(ref SeededGenerator generator, int[] from, int[] counts)
    {
        Array.Clear(counts);
        for (var i = 0; i < from.Length; i++)
        {
            counts[from[generator.NextBelow(from.Length)]]++;
        }
    }

    private static void One(
        int b,
        int[] cases,
        int[] controls,
        int m,
        int n,
        double[] levels,
        double sign,
        RocResamples result
    )
    {
        // Positive when value > threshold: below it lie the cases missed and the controls rightly negative.
        var (missed, negative, doubled) = (0L, 0L, 0L);
        var (best, at) = (0.0, double.NegativeInfinity);
        for (var v = 0; v < levels.Length; v++)
        {
            if (cases[v] == 0 && controls[v] == 0)
            {
                continue;
            }

            doubled += cases[v] * ((2 * negative) + controls[v]);
            missed += cases[v];
            negative += controls[v];
            var youden = (negative / (double)n) - (missed / (double)m);
            if (youden > best + 1e-15)
            {
                (best, at) = (
                    youden,
                    Next(v) is var next && next < levels.Length
                        ? (levels[v] + levels[next]) / 2
                        : double.PositiveInfinity
                );
            }
        }

        result.Areas[b] = doubled / (2.0 * m * n);
        result.Youden[b] = best;
        result.Thresholds[b] = sign * at;

        int Next(int v)
        {
            do
            {
                v++;
            } while (v < levels.Length && cases[v] == 0 && controls[v] == 0);

            return v;
        }
    }
}
