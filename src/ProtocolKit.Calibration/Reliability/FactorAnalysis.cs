using MathNet.Numerics.LinearAlgebra;

namespace ProtocolKit.Calibration.Reliability;

/// <summary>Common factors of a correlation matrix: minimum residuals, one factor by maximum likelihood, oblique rotation.</summary>
public static class FactorAnalysis
{
    /// <summary>
    /// Minimum residual (unweighted least squares) loadings by iterated principal factors, whose fixed point is that
    /// solution. Rows are variables, columns factors.
    /// </summary>
    public static Matrix<double> MinimumResidual(Matrix<double> correlations, int factors)
    {
        var k = correlations.RowCount;
        Require.That(
            factors >= 1 && factors < k,
            "There must be at least one factor, and fewer than variables."
        );
        var communalities =
            correlations.ConditionNumber() < 1e12
                ? correlations.Inverse().Diagonal().Map(d => 1 - (1 / d))
                : Vector<double>.Build.Dense(k, 0.5);
        Matrix<double>? loadings = null;
        for (var step = 0; step < 20000; step++)
        {
            var reduced = correlations.Clone();
            reduced.SetDiagonal(communalities);
            var evd = reduced.Evd(Symmetricity.Symmetric);
            loadings = Matrix<double>.Build.Dense(
                k,
                factors,
                (i, f) =>
                    evd.EigenVectors[i, k - 1 - f] * Math.Sqrt(Math.Max(0, evd.EigenValues[k - 1 - f].Real))
            );
            var next = Vector<double>.Build.Dense(
                k,
                i => Math.Min(1, loadings.Row(i).DotProduct(loadings.Row(i)))
            );
            var change = (next - communalities).InfinityNorm();
            communalities = next;
            if (change < 1e-13)
            {
                break;
            }
        }

        return Positive(loadings!);
    }

    /// <summary>One factor by maximum likelihood, by the EM steps of Rubin DB, Thayer DT (1982) Psychometrika 47:69-76.</summary>
    public static double[] OneFactor(Matrix<double> correlations)
    {
        var k = correlations.RowCount;
        Require.AtLeast(k, 3, "Variables for one factor");
        var loadings = MinimumResidual(correlations, 1).Column(0);
        var unique = Vector<double>.Build.Dense(k, i => Math.Max(0.01, 1 - (loadings[i] * loadings[i])));
        for (var step = 0; step < 200000; step++)
        {
            // Regression of the factor on the variables, by the Sherman–Morrison form of the inverse.
            var weight = loadings.PointwiseDivide(unique);
            var beta = weight / (1 + loadings.DotProduct(weight));
            var cross = correlations * beta;
            var second = 1 - beta.DotProduct(loadings) + beta.DotProduct(cross);
            var next = cross / second;
            var change = (next - loadings).InfinityNorm();
            loadings = next;
            var (l, c) = (loadings, cross);
            unique = Vector<double>.Build.Dense(k, i => Math.Max(1e-6, correlations[i, i] - (l[i] * c[i])));
            if (change < 1e-14)
            {
                break;
            }
        }

        return [.. loadings];
    }

    /// <summary>
    /// Quartimin (direct oblimin with gamma 0) by gradient projection: Jennrich RI (2002) Psychometrika 67:7-19.
    /// Gives the pattern and the factors' correlations.
    /// </summary>
    public static (Matrix<double> Pattern, Matrix<double> Correlations) Quartimin(Matrix<double> loadings)
    {
        var factors = loadings.ColumnCount;
        var others = Matrix<double>.Build.Dense(factors, factors, (i, j) => i == j ? 0 : 1);
        var turn = Matrix<double>.Build.DenseIdentity(factors);
        var (pattern, value, gradient) = At(turn);
        var length = 1.0;
        for (var step = 0; step < 5000; step++)
        {
            var projected =
                gradient
                - (
                    turn
                    * Matrix<double>.Build.DenseOfDiagonalVector(
                        turn.PointwiseMultiply(gradient).ColumnSums()
                    )
                );
            var slope = projected.FrobeniusNorm();
            if (slope < 1e-10)
            {
                break;
            }

            length *= 2;
            for (var attempt = 0; attempt < 30; attempt++)
            {
                var moved = turn - (length * projected);
                moved = moved.NormalizeColumns(2);
                var next = At(moved);
                if (value - next.Value > 0.5 * slope * slope * length || attempt == 29)
                {
                    (turn, (pattern, value, gradient)) = (moved, next);
                    break;
                }

                length /= 2;
            }
        }

        return (pattern, turn.TransposeThisAndMultiply(turn));

        (Matrix<double> Pattern, double Value, Matrix<double> Gradient) At(Matrix<double> t)
        {
            var inverse = t.Inverse();
            var l = loadings * inverse.Transpose();
            var squares = l.PointwisePower(2);
            var inner = squares * others;
            var g = l.PointwiseMultiply(inner);
            return (
                l,
                squares.PointwiseMultiply(inner).Enumerate().Sum() / 4,
                -(l.TransposeThisAndMultiply(g) * inverse).Transpose()
            );
        }
    }

    private static Matrix<double> Positive(Matrix<double> loadings)
    {
        for (var f = 0; f < loadings.ColumnCount; f++)
        {
            if (loadings.Column(f).Sum() < 0)
            {
                loadings.SetColumn(f, -loadings.Column(f));
            }
        }

        return loadings;
    }
}
