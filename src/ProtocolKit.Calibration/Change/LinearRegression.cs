using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Change;

/// <summary>A straight line by least squares, with prediction of one new child.</summary>
public sealed record LinearRegression(
    int Count,
    double Intercept,
    double Slope,
    double RSquare,
    double Residual,
    double MeanX,
    double SquaresX
)
{
    /// <summary>Complete pairs, at least three; x must vary. <see cref="Residual"/> is √(SSE/(n − 2)).</summary>
    public static LinearRegression Of(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        Require.SameLength(x.Count, y.Count, "A regression");
        Require.AtLeast(x.Count, 3, "Pairs for a regression");
        Require.Finite(x.Concat(y), "A regression");
        var squares = Descriptive.SumOfSquares(x);
        Require.That(squares > 0, "A line can't be fitted: the first measurement is the same for everybody.");
        var slope = Descriptive.Covariance(x, y) * (x.Count - 1) / squares;
        var intercept = Descriptive.Mean(y) - (slope * Descriptive.Mean(x));
        var error = x.Zip(y, (a, b) => Math.Pow(b - intercept - (slope * a), 2)).Sum();
        var total = Descriptive.SumOfSquares(y);
        return new LinearRegression(
            x.Count,
            intercept,
            slope,
            total > 0 ? 1 - (error / total) : 0,
            Math.Sqrt(error / (x.Count - 2)),
            Descriptive.Mean(x),
            squares
        );
    }

    public double At(double x) => Intercept + (Slope * x);

    /// <summary>Standard error for one new child at x: √(s²(1 + 1/n + (x − x̄)²/Sxx)).</summary>
    public double NewError(double x) =>
        Residual * Math.Sqrt(1 + (1.0 / Count) + (Math.Pow(x - MeanX, 2) / SquaresX));

    /// <summary>Prediction interval for one new child at x, t with n − 2.</summary>
    public Interval Prediction(double x, double confidence = 0.95) =>
        Interval.Around(At(x), Distributions.StudentMultiplier(confidence, Count - 2) * NewError(x));
}
