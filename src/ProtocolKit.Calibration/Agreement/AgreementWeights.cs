namespace ProtocolKit.Calibration.Agreement;

/// <summary>How much two different categories still agree.</summary>
public enum WeightKind
{
    Identity,
    Linear,
    Quadratic,
    Ordinal,
    Radical,
    Ratio,
    Circular,
    Bipolar,
}

/// <summary>
/// Agreement weights: 1 for the same category, less for others. Linear and quadratic as Cohen (1968) and Fleiss and
/// Cohen (1973); the others as Gwet KL (2014) Handbook of Inter-Rater Reliability, 4th ed., chapter 3.
/// </summary>
public static class AgreementWeights
{
    /// <summary>The weights over declared levels (numbers, ascending), a square table.</summary>
    public static double[,] For(WeightKind kind, IReadOnlyList<double> levels)
    {
        var (least, most) = (levels.Min(), levels.Max());
        return kind switch
        {
            WeightKind.Identity => Fill(levels.Count, (i, j) => i == j ? 1 : 0),
            WeightKind.Ordinal => FromDistance(levels.Count, (i, j) => Pairs(Math.Abs(i - j) + 1)),
            WeightKind.Linear => FromDistance(levels.Count, (i, j) => Math.Abs(levels[i] - levels[j])),
            WeightKind.Quadratic => FromDistance(levels.Count, (i, j) => Square(levels[i] - levels[j])),
            WeightKind.Radical => FromDistance(
                levels.Count,
                (i, j) => Math.Sqrt(Math.Abs(levels[i] - levels[j]))
            ),
            WeightKind.Ratio => FromDistance(levels.Count, (i, j) => Ratio(levels[i], levels[j])),
            WeightKind.Circular => FromDistance(
                levels.Count,
                (i, j) => Square(Math.Sin(Math.PI * (levels[i] - levels[j]) / (most - least + 1)))
            ),
            WeightKind.Bipolar => FromDistance(
                levels.Count,
                (i, j) => i == j ? 0 : Bipolar(levels[i], levels[j], least, most)
            ),
            _ => throw new NotEstimableException("This kind of weights is not known."),
        };
    }

    /// <summary>Disagreement weights v as agreement weights w = 1 − v / max v (Cohen 1968).</summary>
    public static double[,] FromDisagreement(IReadOnlyList<IReadOnlyList<double>> disagreement) =>
        FromDistance(disagreement.Count, (i, j) => disagreement[i][j]);

    /// <summary>Agreement weights given in full.</summary>
    public static double[,] FromTable(IReadOnlyList<IReadOnlyList<double>> weights) =>
        Fill(weights.Count, (i, j) => weights[i][j]);

    /// <summary>Weight 1 for categories counted as the same, 0 for others: groups of category positions from 0.</summary>
    public static double[,] Merging(int size, IReadOnlyList<(int First, int Second)> counted) =>
        Fill(size, (i, j) => i == j || counted.Contains((i, j)) || counted.Contains((j, i)) ? 1 : 0);

    private static double[,] FromDistance(int size, Func<int, int, double> distance)
    {
        var values = Fill(size, distance);
        var most = values.Cast<double>().Max();
        Require.That(most > 0, "Weights need two levels that differ.");
        return Fill(size, (i, j) => 1 - (values[i, j] / most));
    }

    private static double[,] Fill(int size, Func<int, int, double> cell)
    {
        var table = new double[size, size];
        for (var i = 0; i < size; i++)
        {
            for (var j = 0; j < size; j++)
            {
                table[i, j] = cell(i, j);
            }
        }

        return table;
    }

    private static double Square(double x) => x * x;

    private static double Pairs(int n) => n * (n - 1) / 2.0;

    private static double Ratio(double a, double b) => a + b == 0 ? 0 : Square((a - b) / (a + b));

    private static double Bipolar(double a, double b, double least, double most) =>
        Square(a - b) / ((a + b - (2 * least)) * ((2 * most) - a - b));
}
