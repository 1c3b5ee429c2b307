using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>Cohen's kappa with its errors. <see cref="NullStandardError"/> belongs in the test against zero only.</summary>
/// <param name="Kappa">(po − pe) / (1 − pe).</param>
/// <param name="Observed">Weighted observed agreement po.</param>
/// <param name="Expected">Weighted agreement by chance pe.</param>
/// <param name="Subjects">How many subjects both raters rated.</param>
public sealed record KappaResult(
    double Kappa,
    double Observed,
    double Expected,
    double StandardError,
    double NullStandardError,
    double? Z,
    double? P,
    Interval Interval,
    double Subjects
);

/// <summary>
/// Cohen's kappa and weighted kappa of two raters, with the large-sample variance of Fleiss, Cohen and Everitt (1969)
/// Psychological Bulletin 72:323-327. Coefficient: Cohen J (1960) Educ Psychol Meas 20:37-46; weights: Cohen J (1968)
/// Psychological Bulletin 70:213-220. The interval is normal and not cut at ±1; with fewer than about 50 subjects it
/// is rough. Weights need not be symmetric.
/// </summary>
public static class CohenKappa
{
    /// <summary>Kappa with weights of a kind over the positions 1, 2, … of the table's categories, as is usual for kappa.</summary>
    public static KappaResult Of(
        AgreementTable table,
        WeightKind kind = WeightKind.Identity,
        double confidence = 0.95
    ) =>
        Of(
            table,
            AgreementWeights.For(kind, [.. Enumerable.Range(1, table.Size).Select(i => (double)i)]),
            confidence
        );

    /// <summary>Kappa with agreement weights given in full.</summary>
    /// <exception cref="NotEstimableException">Both raters used one and the same category throughout.</exception>
    public static KappaResult Of(AgreementTable table, double[,] weights, double confidence = 0.95)
    {
        Require.That(
            weights.GetLength(0) == table.Size,
            "There must be one weight for each cell of the table."
        );
        var z = Distributions.NormalMultiplier(confidence);
        var margins = new Margins(table, weights);
        Require.That(
            margins.Expected < 1,
            "Kappa can't be computed: both raters used one category only, so agreement by chance is complete."
        );
        var kappa = (margins.Observed - margins.Expected) / (1 - margins.Expected);
        var error = Math.Sqrt(Math.Max(0, margins.Variance()));
        var nullError = Math.Sqrt(Math.Max(0, margins.NullVariance()));
        var test = nullError > 0 ? kappa / nullError : (double?)null;
        return new KappaResult(
            kappa,
            margins.Observed,
            margins.Expected,
            error,
            nullError,
            test,
            test is { } t ? Distributions.NormalTwoSided(t) : null,
            Interval.Around(kappa, z * error),
            table.Total
        );
    }

    /// <summary>The largest kappa that the two raters' totals allow (unweighted).</summary>
    public static double Maximum(AgreementTable table)
    {
        var margins = new Margins(table, AgreementWeights.For(WeightKind.Identity, table.Levels));
        var best =
            Enumerable.Range(0, table.Size).Sum(i => Math.Min(table.RowTotal(i), table.ColumnTotal(i)))
            / table.Total;
        Require.That(margins.Expected < 1, "Kappa can't be computed: both raters used one category only.");
        return (best - margins.Expected) / (1 - margins.Expected);
    }

    private sealed class Margins
    {
        private readonly AgreementTable _table;
        private readonly double[,] _weights;
        private readonly double[] _rows;
        private readonly double[] _columns;
        private readonly double[] _rowWeight;
        private readonly double[] _columnWeight;

        public Margins(AgreementTable table, double[,] weights)
        {
            (_table, _weights) = (table, weights);
            var range = Enumerable.Range(0, table.Size).ToArray();
            _rows = [.. range.Select(i => table.RowTotal(i) / table.Total)];
            _columns = [.. range.Select(j => table.ColumnTotal(j) / table.Total)];
            _rowWeight = [.. range.Select(i => range.Sum(j => _columns[j] * weights[i, j]))];
            _columnWeight = [.. range.Select(j => range.Sum(i => _rows[i] * weights[i, j]))];
            Observed = Sum((i, j) => weights[i, j] * Share(i, j));
            Expected = Sum((i, j) => weights[i, j] * _rows[i] * _columns[j]);
        }

        public double Observed { get; }

        public double Expected { get; }

        public double Variance()
        {
            var sum = Sum(
                (i, j) =>
                    Share(i, j)
                    * Square(
                        (_weights[i, j] * (1 - Expected))
                            - ((_rowWeight[i] + _columnWeight[j]) * (1 - Observed))
                    )
            );
            var correction = Square((Observed * Expected) - (2 * Expected) + Observed);
            return (sum - correction) / (_table.Total * Square(Square(1 - Expected)));
        }

        public double NullVariance()
        {
            var sum = Sum(
                (i, j) => _rows[i] * _columns[j] * Square(_weights[i, j] - _rowWeight[i] - _columnWeight[j])
            );
            return (sum - Square(Expected)) / (_table.Total * Square(1 - Expected));
        }

        private double Share(int i, int j) => _table[i, j] / _table.Total;

        private double Sum(Func<int, int, double> cell) =>
            Enumerable.Range(0, _table.Size).Sum(i => Enumerable.Range(0, _table.Size).Sum(j => cell(i, j)));

        private static double Square(double x) => x * x;
    }
}
