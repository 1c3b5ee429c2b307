using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>Variance components of ratings crossed by subject and rater, and the correlations made of them.</summary>
/// <param name="RatingsPerSubject">Harmonic mean of the number of ratings of each rated subject.</param>
public sealed record CrossedVarianceResult(
    double Subject,
    double Rater,
    double Residual,
    double RatingsPerSubject
)
{
    /// <summary>ICC(A,1): one rating, rater differences count as error.</summary>
    public double AgreementSingle => Subject / (Subject + Rater + Residual);

    /// <summary>ICC(C,1): one rating, rater differences taken out.</summary>
    public double ConsistencySingle => Subject / (Subject + Residual);

    /// <summary>ICC(A,k) with k the harmonic mean of ratings.</summary>
    public double AgreementMean => Subject / (Subject + ((Rater + Residual) / RatingsPerSubject));

    /// <summary>ICC(C,k) with k the harmonic mean of ratings.</summary>
    public double ConsistencyMean => Subject / (Subject + (Residual / RatingsPerSubject));
}

/// <summary>
/// Restricted maximum likelihood (REML) for a rating = mean + subject + rater + residual, subjects and raters random and
/// crossed, cells missing at random. The profiled REML criterion of Bates D, Mächler M, Bolker B, Walker S (2015)
/// J Stat Softw 67(1), equation 42, minimised over the two relative standard deviations; subjects are absorbed, so
/// time grows with ratings plus raters³. Components are never below zero. Iterative: compare at about 1e-6.
/// </summary>
public static class CrossedVariance
{
    /// <summary>A row each subject, a column each rater, cells may be missing.</summary>
    public static CrossedVarianceResult Of(RatingMatrix ratings)
    {
        var rows = Enumerable.Range(0, ratings.Subjects).Where(s => ratings.Present(s).Any()).ToArray();
        var counts = rows.Select(s => ratings.Present(s).Count()).ToArray();
        Require.AtLeast(rows.Length, 2, "Rated subjects");
        Require.AtLeast(ratings.Raters, 2, "Raters");
        Require.That(counts.Any(c => c > 1), "Variance components need subjects with more than one rating.");
        Require.That(
            ratings.Levels().Length > 1,
            "Variance components can't be estimated: all ratings are the same."
        );
        var criterion = new Criterion(ratings, rows);
        var (subject, rater) = Minimise(criterion);
        var residual = criterion.Residual(subject, rater);
        Require.That(
            residual > 1e-10 * criterion.Spread,
            "Variance components can't be estimated: raters differ by a constant at most, so nothing is left between them."
        );
        return new CrossedVarianceResult(
            subject * subject * residual,
            rater * rater * residual,
            residual,
            counts.Length / counts.Sum(c => 1.0 / c)
        );
    }

    private static (double Subject, double Rater) Minimise(Criterion criterion)
    {
        var best = Vector<double>.Build.Dense([1.0, 1.0]);
        var lowest = double.PositiveInfinity;
        var objective = ObjectiveFunction.Value(x =>
        {
            var deviance = criterion.Deviance(Math.Abs(x[0]), Math.Abs(x[1]));
            (best, lowest) = deviance < lowest ? (x.Clone(), deviance) : (best, lowest);
            return deviance;
        });
        var simplex = new NelderMeadSimplex(1e-14, 2000);
        for (var round = 0; round < 4; round++)
        {
            try
            {
                simplex.FindMinimum(
                    objective,
                    best,
                    best.Map(v => Math.Max(0.05, Math.Abs(v) / Math.Pow(10, round + 1)))
                );
            }
            catch (MaximumIterationsException)
            {
                // A large deviance has no digits for so small a tolerance; the lowest point met is as good as it gets.
            }
        }

        return (Math.Abs(best[0]), Math.Abs(best[1]));
    }

    private sealed class Criterion
    {
        private readonly double[][] _rows; // NaN for missing; centred on the grand mean for accuracy
        private readonly int _raters;
        private readonly int _total;

        public Criterion(RatingMatrix ratings, int[] rows)
        {
            _raters = ratings.Raters;
            var mean = rows.SelectMany(ratings.Present).Average();
            _rows =
            [
                .. rows.Select(s =>
                    Enumerable.Range(0, _raters).Select(r => (ratings[s, r] - mean) ?? double.NaN).ToArray()
                ),
            ];
            _total = rows.Sum(s => ratings.Present(s).Count());
        }

        /// <summary>Mean square about the grand mean.</summary>
        public double Spread => _rows.Sum(r => r.Where(v => !double.IsNaN(v)).Sum(v => v * v)) / _total;

        public double Deviance(double subject, double rater)
        {
            var (logDeterminant, squares) = Solve(subject, rater);
            var df = _total - 1.0;
            return logDeterminant + (df * (1 + Math.Log(2 * Math.PI * squares / df)));
        }

        public double Residual(double subject, double rater) => Solve(subject, rater).Squares / (_total - 1);

        /// <summary>log|L|² + log|R|² and the penalised sum of squares, subjects absorbed into the raters' equations.</summary>
        private (double LogDeterminant, double Squares) Solve(double subject, double rater)
        {
            var size = _raters + 1;
            var matrix = Matrix<double>.Build.Dense(size, size);
            var right = new double[size];
            var (logDeterminant, squares) = (0.0, 0.0);
            for (var r = 0; r < _raters; r++)
            {
                matrix[r, r] = 1;
            }

            foreach (var row in _rows)
            {
                Absorb(row, subject, rater, matrix, right, ref logDeterminant, ref squares);
            }

            var factor = matrix.Cholesky().Factor;
            var solved = new double[size];
            for (var i = 0; i < size; i++)
            {
                var sum = right[i];
                for (var j = 0; j < i; j++)
                {
                    sum -= factor[i, j] * solved[j];
                }

                solved[i] = sum / factor[i, i];
                logDeterminant += 2 * Math.Log(factor[i, i]);
                squares -= solved[i] * solved[i];
            }

            return (logDeterminant, Math.Max(squares, double.Epsilon));
        }

        private void Absorb(
            double[] row,
            double subject,
            double rater,
            Matrix<double> matrix,
            double[] right,
            ref double logDeterminant,
            ref double squares
        )
        {
            var (count, sum) = (0, 0.0);
            var link = new double[_raters + 1];
            for (var r = 0; r < _raters; r++)
            {
                if (double.IsNaN(row[r]))
                {
                    continue;
                }

                count++;
                sum += row[r];
                squares += row[r] * row[r];
                link[r] = subject * rater;
                matrix[r, r] += rater * rater;
                matrix[r, _raters] += rater;
                matrix[_raters, r] += rater;
                right[r] += rater * row[r];
                right[_raters] += row[r];
            }

            matrix[_raters, _raters] += count;
            link[_raters] = subject * count;
            var pivot = (subject * subject * count) + 1;
            logDeterminant += Math.Log(pivot);
            squares -= subject * subject * sum * sum / pivot;
            for (var i = 0; i <= _raters; i++)
            {
                right[i] -= link[i] * subject * sum / pivot;
                for (var j = 0; j <= _raters; j++)
                {
                    matrix[i, j] -= link[i] * link[j] / pivot;
                }
            }
        }
    }
}
