using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>An agreement coefficient corrected for chance, its error over sampled subjects, its interval (t, cut at 1).</summary>
public sealed record AgreementCoefficient(
    double Coefficient,
    double StandardError,
    double Observed,
    double Expected,
    Interval Interval,
    int Subjects
)
{
    /// <summary>The standard error with n in place of n − 1, as some programs print it for tables of counts.</summary>
    public double StandardErrorWithN => StandardError * Math.Sqrt((Subjects - 1.0) / Subjects);
}

/// <summary>
/// Agreement of two or more raters with missing ratings and weights: Gwet's AC1 and AC2, generalised Fleiss,
/// Brennan–Prediger and plain percent agreement. Source: Gwet KL (2014) Handbook of Inter-Rater Reliability, 4th ed.,
/// chapters 2-5; Gwet KL (2008) Br J Math Stat Psychol 61:29-48. Observed agreement uses subjects with two or
/// more ratings, category shares all subjects with at least one. The error assumes subjects sampled from many.
/// </summary>
public sealed class GwetAgreement
{
    private readonly double[][] _counts;
    private readonly double[,] _weights;
    private readonly double[] _weighted; // observed agreement of each subject, 0 where it has one rating only
    private readonly double[] _shares;
    private readonly double _scale; // subjects over subjects with two or more ratings
    private readonly double _confidence;

    private GwetAgreement(double[][] counts, double[,] weights, double confidence)
    {
        _counts = counts;
        (_weights, _confidence) = (weights, confidence);
        Require.Level(confidence);
        var several = _counts.Count(c => c.Sum() >= 2);
        Require.AtLeast(several, 1, "Subjects rated by two or more raters");
        Require.AtLeast(_counts.Length, 2, "Subjects");
        _scale = _counts.Length / (double)several;
        _weighted = [.. _counts.Select(AgreementOf)];
        _shares = [.. Categories.Select(k => _counts.Average(c => c[k] / c.Sum()))];
        Observed = _weighted.Sum() / several;
    }

    /// <summary>Weighted observed agreement.</summary>
    public double Observed { get; }

    private IEnumerable<int> Categories => Enumerable.Range(0, _weights.GetLength(0));

    /// <summary>From ratings with missing cells, over declared levels (those that occur, where none are given).</summary>
    public static GwetAgreement Of(
        RatingMatrix ratings,
        WeightKind kind = WeightKind.Identity,
        IReadOnlyList<double>? levels = null,
        double confidence = 0.95
    )
    {
        levels ??= ratings.Levels();
        Require.AtLeast(levels.Count, 2, "Categories");
        return Of(FleissKappa.Counts(ratings, levels), AgreementWeights.For(kind, levels), confidence);
    }

    /// <summary>From a table of two raters.</summary>
    public static GwetAgreement Of(
        AgreementTable table,
        WeightKind kind = WeightKind.Identity,
        double confidence = 0.95
    )
    {
        return Of(table, AgreementWeights.For(kind, table.Levels), confidence);
    }

    /// <summary>From a table of two raters with weights in full.</summary>
    public static GwetAgreement Of(AgreementTable table, double[,] weights, double confidence = 0.95)
    {
        var counts = table.Subjects().Select(pair => PairCounts(table.Size, pair)).ToArray();
        return Of(counts, weights, confidence);
    }

    /// <summary>From counts, a row each subject, a column each category, with weights in full. Rows may have different totals.</summary>
    public static GwetAgreement Of(
        IReadOnlyList<IReadOnlyList<double>> counts,
        double[,] weights,
        double confidence = 0.95
    )
    {
        Require.That(
            counts.All(c => c.Count == weights.GetLength(0)),
            "There must be one weight for each pair of categories."
        );
        return new GwetAgreement(
            [.. counts.Where(c => c.Sum() > 0).Select(c => c.ToArray())],
            weights,
            confidence
        );
    }

    /// <summary>Gwet's AC1, or AC2 with weights other than identity.</summary>
    public AgreementCoefficient Ac()
    {
        var count = _shares.Length;
        Require.AtLeast(count, 2, "Categories");
        var factor = _weights.Cast<double>().Sum() / (count * (count - 1.0));
        var expected = factor * _shares.Sum(p => p * (1 - p));
        return Corrected(expected, c => factor * Categories.Sum(k => c[k] * (1 - _shares[k])) / c.Sum());
    }

    /// <summary>Fleiss' kappa generalised to missing ratings and weights (Scott's pi for two raters).</summary>
    public AgreementCoefficient Fleiss()
    {
        var mean = Categories
            .Select(k => Categories.Sum(l => (_weights[k, l] + _weights[l, k]) / 2 * _shares[l]))
            .ToArray();
        var expected = Categories.Sum(k => _shares[k] * mean[k]);
        Require.That(expected < 1, "This coefficient can't be computed: all ratings are in one category.");
        return Corrected(expected, c => Categories.Sum(k => c[k] * mean[k]) / c.Sum());
    }

    /// <summary>Brennan and Prediger's coefficient: every category equally likely by chance.</summary>
    public AgreementCoefficient BrennanPrediger()
    {
        var count = _shares.Length;
        var expected = _weights.Cast<double>().Sum() / (count * (double)count);
        return Corrected(expected, _ => expected);
    }

    /// <summary>Percent agreement, uncorrected, as a share from 0 to 1.</summary>
    public AgreementCoefficient Percent() => Corrected(0, _ => 0);

    private AgreementCoefficient Corrected(double expected, Func<double[], double> expectedOf)
    {
        var n = _counts.Length;
        var coefficient = (Observed - expected) / (1 - expected);
        var sum = 0.0;
        for (var s = 0; s < n; s++)
        {
            var own = _counts[s].Sum() >= 2 ? _scale * (_weighted[s] - expected) / (1 - expected) : 0;
            var chance = 2 * (1 - coefficient) * (expectedOf(_counts[s]) - expected) / (1 - expected);
            sum += Math.Pow(own - chance - coefficient, 2);
        }

        var error = Math.Sqrt(sum / (n * (n - 1.0)));
        var half = Distributions.StudentMultiplier(_confidence, n - 1) * error;
        var interval = new Interval(coefficient - half, Math.Min(1, coefficient + half));
        return new AgreementCoefficient(coefficient, error, Observed, expected, interval, n);
    }

    private double AgreementOf(double[] counts)
    {
        var total = counts.Sum();
        return total < 2
            ? 0
            : Categories.Sum(k => counts[k] * (Categories.Sum(l => _weights[k, l] * counts[l]) - 1))
                / (total * (total - 1));
    }

    private static double[] PairCounts(int size, (int First, int Second) pair)
    {
        var counts = new double[size];
        counts[pair.First]++;
        counts[pair.Second]++;
        return counts;
    }
}
