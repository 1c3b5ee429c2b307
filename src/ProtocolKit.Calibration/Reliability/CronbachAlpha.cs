using MathNet.Numerics.LinearAlgebra;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Reliability;

/// <summary>Cronbach's alpha with what stands around it.</summary>
/// <param name="Standardized">Null where an item doesn't vary.</param>
/// <param name="Feldt">Interval of Feldt LS (1965) Psychometrika 30:357-370.</param>
/// <param name="StandardError">Asymptotic error of Duhachek A, Iacobucci D (2004) J Appl Psychol 89:792-808.</param>
/// <param name="MeasurementError">SD of the total × √(1 − alpha), in points of the total.</param>
public sealed record AlphaResult(
    int Persons,
    int Items,
    double Alpha,
    double? Standardized,
    double? MeanCorrelation,
    double? MedianCorrelation,
    double TotalMean,
    double TotalVariance,
    double SumOfItemVariances,
    Interval Feldt,
    double StandardError,
    double MeasurementError
);

/// <summary>
/// Cronbach's alpha: Cronbach LJ (1951) Psychometrika 16:297-334. A row each person, a column each item. At least two
/// items and two persons; the total must vary.
/// </summary>
public static class CronbachAlpha
{
    /// <summary>k/(k − 1) × (1 − Σ item variances / variance of the total), from summary figures.</summary>
    public static double Of(int items, double sumOfItemVariances, double totalVariance)
    {
        Require.AtLeast(items, 2, "Items");
        Require.That(totalVariance > 0, "Alpha can't be computed: every person has the same total.");
        return items / (items - 1.0) * (1 - (sumOfItemVariances / totalVariance));
    }

    /// <summary>Complete answers; rows with a gap must be left out first (<see cref="RatingMatrix.CompleteRows"/>).</summary>
    public static AlphaResult Of(RatingMatrix scores, double confidence = 0.95)
    {
        Require.Level(confidence);
        var covariance = ItemCovariance.Of(scores);
        var (n, k) = (scores.Subjects, scores.Raters);
        var sum = covariance.Enumerate().Sum();
        var trace = covariance.Diagonal().Sum();
        var alpha = Of(k, trace, sum);
        var correlations = ItemCovariance.Correlations(covariance);
        var pairs = correlations is null ? null : OffDiagonal(correlations);
        var mean = pairs?.Average();
        return new AlphaResult(
            n,
            k,
            alpha,
            k * mean / (1 + ((k - 1) * mean)),
            mean,
            pairs is null ? null : Descriptive.Median(pairs),
            Enumerable.Range(0, k).Sum(i => Descriptive.Mean(scores.Column(i))),
            sum,
            trace,
            FeldtInterval(alpha, n, k, confidence),
            Error(covariance, n),
            Math.Sqrt(sum * Math.Max(0, 1 - alpha))
        );
    }

    /// <summary>Feldt's interval of an alpha of so many persons and items.</summary>
    public static Interval FeldtInterval(double alpha, int persons, int items, double confidence = 0.95)
    {
        Require.Level(confidence);
        Require.AtLeast(persons, 2, "Persons");
        var (df1, df2, tail) = (persons - 1.0, (persons - 1.0) * (items - 1), (1 - confidence) / 2);
        return new Interval(
            1 - ((1 - alpha) * Distributions.FisherQuantile(1 - tail, df1, df2)),
            1 - ((1 - alpha) * Distributions.FisherQuantile(tail, df1, df2))
        );
    }

    /// <summary>Alpha from a covariance (or correlation) matrix.</summary>
    public static double Of(Matrix<double> covariance) =>
        Of(covariance.RowCount, covariance.Diagonal().Sum(), covariance.Enumerate().Sum());

    /// <summary>Alpha with every covariance from the persons who answered both items.</summary>
    public static double Pairwise(RatingMatrix scores)
    {
        var k = scores.Raters;
        var matrix = Matrix<double>.Build.Dense(k, k, (i, j) => PairwiseCovariance(scores, i, j));
        return Of(matrix);
    }

    /// <summary>Alpha from each item's own answers and totals that skip gaps: a rule some programs use; gaps lower totals.</summary>
    public static double IgnoringMissing(RatingMatrix scores)
    {
        var range = Enumerable.Range(0, scores.Subjects).ToArray();
        var variances = Enumerable
            .Range(0, scores.Raters)
            .Sum(i => Descriptive.Variance([.. range.Select(s => scores[s, i]).OfType<double>()]));
        return Of(
            scores.Raters,
            variances,
            Descriptive.Variance([.. range.Select(s => scores.Present(s).Sum())])
        );
    }

    private static double PairwiseCovariance(RatingMatrix scores, int i, int j)
    {
        var both = Enumerable
            .Range(0, scores.Subjects)
            .Select(s => (A: scores[s, i], B: scores[s, j]))
            .Where(p => p.A is not null && p.B is not null)
            .ToList();
        return Descriptive.Covariance([.. both.Select(p => p.A!.Value)], [.. both.Select(p => p.B!.Value)]);
    }

    private static double Error(Matrix<double> c, int n)
    {
        double k = c.RowCount;
        var (sum, trace) = (c.Enumerate().Sum(), c.Diagonal().Sum());
        var square = c * c;
        var inner =
            (sum * (square.Diagonal().Sum() + (trace * trace))) - (2 * trace * square.Enumerate().Sum());
        return Math.Sqrt(Math.Max(0, 2 * k * k / (Math.Pow(k - 1, 2) * Math.Pow(sum, 3)) * inner / n));
    }

    private static double[] OffDiagonal(Matrix<double> m) =>
        [.. Enumerable.Range(0, m.RowCount).SelectMany(i => Enumerable.Range(0, i).Select(j => m[i, j]))];
}
