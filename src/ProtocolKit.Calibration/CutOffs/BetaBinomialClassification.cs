using MathNet.Numerics;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.CutOffs;

/// <summary>Shares of children by true and observed category, and by two observed ones.</summary>
public sealed record ClassificationResult(double[][] TrueByObserved, double[][] ObservedByObserved)
{
    /// <summary>Share classified as their true score says.</summary>
    public double Accuracy => Diagonal(TrueByObserved);

    /// <summary>Share classified alike on two occasions, with the chance agreement beside it.</summary>
    public ConsistencyResult Consistency =>
        new(Diagonal(ObservedByObserved), ObservedByObserved.Sum(r => Math.Pow(r.Sum(), 2)));

    private static double Diagonal(double[][] table) => table.Select((r, i) => r[i]).Sum();
}

/// <summary>
/// Classification of totals that are binomial given a true share with a beta distribution: Huynh H (1976) J Educ Meas
/// 13:253-264; Hanson BA, Brennan RL (1990) 27:345-359; Livingston SA, Lewis C (1995) 32:179-197 with an effective number
/// of items. Consistency takes the two totals as independent given the true share (Hanson 1991).
/// </summary>
public static class BetaBinomialClassification
{
    /// <summary>Cuts ascending: a total or share belongs to the category above when it is at or above the cut.</summary>
    public static ClassificationResult Of(
        BetaShape shape,
        int items,
        IReadOnlyList<double> trueCuts,
        IReadOnlyList<int> observedCuts
    )
    {
        Require.That(
            shape.IsPermissible,
            "The beta distribution of true scores is not permissible (shapes above 0, limits within 0 and 1)."
        );
        var categories = observedCuts.Count + 1;
        var trueByObserved = Square(trueCuts.Count + 1, categories);
        var both = Square(categories, categories);
        double[] bounds =
        [
            0,
            .. trueCuts.Select(c => Math.Clamp((c - shape.Lower) / (shape.Upper - shape.Lower), 0, 1)),
            1,
        ];
        for (var t = 0; t + 1 < bounds.Length; t++)
        {
            for (var i = 0; i < categories; i++)
            {
                var category = i;
                trueByObserved[t][i] = Integrate(shape, bounds[t], bounds[t + 1], s => Chances(s)[category]);
                for (var j = 0; j <= i; j++)
                {
                    var other = j;
                    both[i][j] += Integrate(
                        shape,
                        bounds[t],
                        bounds[t + 1],
                        s => Chances(s) is var c ? c[category] * c[other] : 0
                    );
                    both[j][i] = both[i][j];
                }
            }
        }

        return new ClassificationResult(trueByObserved, both);

        double[] Chances(double share)
        {
            var above = observedCuts
                .Select(c => Distributions.BinomialUpper(c, items, share))
                .Append(0)
                .Prepend(1)
                .ToArray();
            return [.. Enumerable.Range(0, categories).Select(i => above[i] - above[i + 1])];
        }
    }

    /// <summary>P(total = x), x from 0 to items.</summary>
    public static double[] Totals(BetaShape shape, int items) =>
        [
            .. Enumerable
                .Range(0, items + 1)
                .Select(x => Integrate(shape, 0, 1, s => Distributions.BinomialPmf(x, items, s))),
        ];

    /// <summary>Livingston and Lewis's effective test length, from possible limits of the total.</summary>
    public static double EffectiveLength(
        double mean,
        double variance,
        double reliability,
        double least,
        double most
    )
    {
        Require.That(
            reliability is > 0 and < 1 && variance > 0,
            "An effective length needs a reliability between 0 and 1 and totals that vary."
        );
        return (((mean - least) * (most - mean)) - (reliability * variance)) / (variance * (1 - reliability));
    }

    /// <summary>
    /// Integral of f(share) × beta density over a part of 0 to 1. The halves next to 0 and 1 are stretched by a power so
    /// that densities that rise without limit there are integrated to the same accuracy.
    /// </summary>
    private static double Integrate(BetaShape shape, double from, double to, Func<double, double> f)
    {
        var scale = Math.Exp(-SpecialFunctions.BetaLn(shape.Alpha, shape.Beta));
        var width = shape.Upper - shape.Lower;
        var (a, b) = (shape.Alpha, shape.Beta);
        var half = Math.Clamp(0.5, from, to);
        var left = Part(from, half, a, x => f(shape.Lower + (width * x)) * Math.Pow(1 - x, b - 1));
        var right = Part(
            1 - to,
            1 - half,
            b,
            y => f(shape.Lower + (width * (1 - y))) * Math.Pow(1 - y, a - 1)
        );
        return scale * (left + right);
    }

    /// <summary>∫ x^(a−1) g(x) dx = ∫ g(t^p) p t^(pa−1) dt with p making pa at least 4.</summary>
    private static double Part(double from, double to, double a, Func<double, double> g)
    {
        if (from >= to)
        {
            return 0;
        }

        var p = Math.Max(1, Math.Ceiling(4 / a));
        var (low, high) = (Math.Pow(from, 1 / p), Math.Pow(to, 1 / p));
        const int Panels = 16;
        var sum = 0.0;
        for (var panel = 0; panel < Panels; panel++)
        {
            var start = low + ((high - low) * panel / Panels);
            var length = (high - low) / Panels;
            for (var i = 0; i < Rule.Order; i++)
            {
                var t = start + (length * Rule.GetAbscissa(i));
                sum += Rule.GetWeight(i) * length * g(Math.Pow(t, p)) * p * Math.Pow(t, (p * a) - 1);
            }
        }

        return sum;
    }

    private static readonly MathNet.Numerics.Integration.GaussLegendreRule Rule = new(0, 1, 32);

    private static double[][] Square(int rows, int columns) =>
        [.. Enumerable.Range(0, rows).Select(_ => new double[columns])];
}
