using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Norms;

/// <summary>
/// L, M and S of one age group by maximum likelihood: for a given L, M and S follow from the mean and SD of the
/// transformed values; L is the one with the highest profile likelihood of Box and Cox (1964) J R Stat Soc B 26:211-252.
/// The search goes over a grid of hundredths from −3 to 3 and then between the best one's neighbours.
/// </summary>
public static class LmsFit
{
    /// <summary>Fewer children say nothing about skewness. Common practice, no source.</summary>
    private const int Fewest = 20;

    /// <summary>Null with too few children, values of 0 or below, or no variance.</summary>
    public static Lms? Of(IReadOnlyList<double> values)
    {
        if (values.Count < Fewest || values.Any(v => v <= 0) || values.Distinct().Count() < 3)
        {
            return null;
        }

        var logs = values.Select(v => Math.Log(v)).ToList();
        var sumOfLogs = logs.Sum();
        var best = Enumerable
            .Range(-300, 601)
            .Select(i => i / 100.0)
            .MaxBy(l => Likelihood(logs, sumOfLogs, l));
        best = Math.Clamp(FindMaximum(l => Likelihood(logs, sumOfLogs, l), best), -3, 3);
        var moved = logs.Select(x => Transform(x, best)).ToList();
        var mean = Descriptive.Mean(moved);
        var deviation = Math.Sqrt(Descriptive.PopulationVariance(moved));
        if (Math.Abs(best) < 1e-9)
        {
            return new Lms(0, Math.Exp(mean), deviation);
        }

        var power = (best * mean) + 1;
        return power <= 0 ? null : new Lms(best, Math.Pow(power, 1 / best), deviation / power);
    }

    /// <summary>The best place near a good one: thirds of the bracket are dropped until it is smaller than a sample could tell.</summary>
    private static double FindMaximum(Func<double, double> value, double near)
    {
        var (low, high) = (near - 0.01, near + 0.01);
        while (high - low > 1e-9)
        {
            var (left, right) = (low + ((high - low) / 3), high - ((high - low) / 3));
            (low, high) = value(left) < value(right) ? (left, high) : (low, right);
        }

        return (low + high) / 2;
    }

    private static double Likelihood(List<double> logs, double sumOfLogs, double l)
    {
        var variance = Descriptive.PopulationVariance([.. logs.Select(x => Transform(x, l))]);
        return variance <= 0
            ? double.NegativeInfinity
            : (-logs.Count / 2.0 * Math.Log(variance)) + ((l - 1) * sumOfLogs);
    }

    private static double Transform(double log, double l) =>
        Math.Abs(l) < 1e-9 ? log : (Math.Exp(l * log) - 1) / l;
}
