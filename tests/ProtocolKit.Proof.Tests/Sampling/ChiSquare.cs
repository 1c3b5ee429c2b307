namespace ProtocolKit.Proof.Tests.Sampling;

/// <summary>Pearson's test of equal chances. With a fixed seed it gives the same answer each time.</summary>
internal static class ChiSquare
{
    /// <summary>
    /// Upper critical values at 0.001 by degrees of freedom: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, and the
    /// same as qchisq(0.999, df) of R 4.
    /// </summary>
    private static readonly SortedDictionary<int, double> Critical = new()
    {
        [1] = 10.828,
        [2] = 13.816,
        [3] = 16.266,
        [4] = 18.467,
        [5] = 20.515,
        [6] = 22.458,
        [7] = 24.322,
        [8] = 26.124,
        [10] = 29.588,
        [11] = 31.264,
        [19] = 43.820,
        [20] = 45.315,
        [30] = 59.703,
        [40] = 73.402,
        [48] = 84.037,
        [50] = 86.661,
    };

    /// <summary>As often as one another, up to chance.</summary>
    public static void Fits(IReadOnlyCollection<int> counts) =>
        Assert.InRange(Statistic(counts), 0, CriticalAt(counts.Count - 1));

    public static double Statistic(IReadOnlyCollection<int> counts)
    {
        var expected = counts.Sum() / (double)counts.Count;
        Assert.True(expected >= 5, "Too few draws for the test to mean anything.");
        return counts.Sum(c => (c - expected) * (c - expected) / expected);
    }

    /// <summary>Of a number of degrees that is not in the table: that of the next lower one, which is stricter.</summary>
    public static double CriticalAt(int degrees) => Critical.Last(c => c.Key <= degrees).Value;
}
