using MathNet.Numerics.LinearAlgebra;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Norms;

/// <summary>A polynomial of age by least squares, as norms: expected total and spread at any age of the sample.</summary>
public sealed class PolynomialNorms
{
    private readonly Matrix<double> _inverse; // of X'X over centred and scaled ages
    private readonly double _centre;
    private readonly double _scale;
    private readonly Vector<double> _scaled;

    private PolynomialNorms(double[] x, double[] y, int degree)
    {
        Require.SameLength(x.Length, y.Length, "Ages and totals");
        Require.AtLeast(x.Length, degree + 2, "Children for these norms");
        Require.Finite(x.Concat(y), "Ages and totals");
        Require.That(x.Distinct().Count() > degree, "Too few different ages for this curve.");
        (_centre, _scale) = (x.Average(), Math.Sqrt(Descriptive.PopulationVariance(x)));
        var design = Matrix<double>.Build.Dense(
            x.Length,
            degree + 1,
            (i, j) => Math.Pow((x[i] - _centre) / _scale, j)
        );
        var qr = design.QR();
        _scaled = qr.Solve(Vector<double>.Build.Dense(y));
        _inverse = (design.TransposeThisAndMultiply(design)).Inverse();
        (Count, Degree) = (x.Length, degree);
        ResidualSquares = (Vector<double>.Build.Dense(y) - (design * _scaled)).Sum(e => e * e);
        RSquare = 1 - (ResidualSquares / Descriptive.SumOfSquares(y));
    }

    public int Count { get; }

    public int Degree { get; }

    public double ResidualSquares { get; }

    public double RSquare { get; }

    /// <summary>√(RSS/(n − coefficients)).</summary>
    public double Sigma => Math.Sqrt(ResidualSquares / (Count - Degree - 1));

    /// <summary>Akaike's criterion with the variance counted as a parameter.</summary>
    public double Aic => (Count * (Math.Log(2 * Math.PI * ResidualSquares / Count) + 1)) + (2 * (Degree + 2));

    public static PolynomialNorms Of(
        IReadOnlyList<double> ages,
        IReadOnlyList<double> totals,
        int degree = 1
    ) => new([.. ages], [.. totals], degree);

    /// <summary>Coefficients in powers of age, constant first.</summary>
    public double[] Coefficients()
    {
        var result = new double[Degree + 1];
        for (var j = 0; j <= Degree; j++)
        {
            // (age − c)^j / s^j by the binomial theorem.
            for (var k = 0; k <= j; k++)
            {
                result[k] +=
                    _scaled[j]
                    / Math.Pow(_scale, j)
                    * MathNet.Numerics.SpecialFunctions.Binomial(j, k)
                    * Math.Pow(-_centre, j - k);
            }
        }

        return result;
    }

    public double At(double age) => Row(age).DotProduct(_scaled);

    /// <summary>Prediction interval for one more child.</summary>
    public Interval Prediction(double age, double confidence = 0.95)
    {
        var row = Row(age);
        var error = Sigma * Math.Sqrt(1 + row.DotProduct(_inverse * row));
        return Interval.Around(
            At(age),
            Distributions.StudentMultiplier(confidence, Count - Degree - 1) * error
        );
    }

    /// <summary>(total − expected) / sigma.</summary>
    public double Z(double total, double age) => (total - At(age)) / Sigma;

    /// <summary>F test of this curve's further terms against a simpler one on the same children.</summary>
    public (double F, double P) Against(PolynomialNorms simpler)
    {
        var df = Count - Degree - 1;
        var f =
            (simpler.ResidualSquares - ResidualSquares) / (Degree - simpler.Degree) / (ResidualSquares / df);
        return (f, Distributions.FisherUpper(f, Degree - simpler.Degree, df));
    }

    private Vector<double> Row(double age) =>
        Vector<double>.Build.Dense(Degree + 1, j => Math.Pow((age - _centre) / _scale, j));
}
