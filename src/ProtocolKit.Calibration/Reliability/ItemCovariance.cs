using MathNet.Numerics.LinearAlgebra;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Reliability;

/// <summary>Covariances and correlations of items over complete answers, divisor n − 1.</summary>
public static class ItemCovariance
{
    /// <summary>A row each person, a column each item.</summary>
    public static Matrix<double> Of(RatingMatrix scores)
    {
        Require.AtLeast(scores.Subjects, 2, "Persons with complete answers");
        Require.AtLeast(scores.Raters, 2, "Items");
        var columns = Enumerable.Range(0, scores.Raters).Select(scores.Column).ToArray();
        return Matrix<double>.Build.Dense(
            columns.Length,
            columns.Length,
            (i, j) => Descriptive.Covariance(columns[i], columns[j])
        );
    }

    /// <summary>The correlations; null where an item doesn't vary.</summary>
    public static Matrix<double>? Correlations(Matrix<double> covariance)
    {
        var deviations = covariance.Diagonal().Map(Math.Sqrt);
        return deviations.Any(d => d <= 0)
            ? null
            : Matrix<double>.Build.Dense(
                covariance.RowCount,
                covariance.ColumnCount,
                (i, j) => i == j ? 1 : covariance[i, j] / (deviations[i] * deviations[j])
            );
    }
}
