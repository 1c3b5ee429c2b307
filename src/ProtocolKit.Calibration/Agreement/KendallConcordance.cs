using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>Kendall's coefficient of concordance.</summary>
/// <param name="S">Sum of squared deviations of the rank sums.</param>
/// <param name="W">Corrected for ties.</param>
/// <param name="Uncorrected">12S / (m²(n³ − n)), without the correction.</param>
/// <param name="ChiSquare">m(n − 1)W; with ties corrected it is Friedman's statistic.</param>
/// <param name="MeanSpearman">Mean of all pairwise rank correlations, (mW − 1)/(m − 1) without ties.</param>
public sealed record ConcordanceResult(
    double S,
    double W,
    double Uncorrected,
    double ChiSquare,
    int DegreesOfFreedom,
    double P,
    double? MeanSpearman
);

/// <summary>
/// Kendall's W: do m raters order n subjects alike? Source: Kendall MG, Babington Smith B (1939) Ann Math Stat
/// 10:275-287; ties after Kendall MG (1948) Rank Correlation Methods. The chi-square test is rough below about 7 subjects.
/// </summary>
public static class KendallConcordance
{
    /// <summary>A row each subject, a column each rater; complete data, ratings or ranks.</summary>
    public static ConcordanceResult Of(RatingMatrix ratings)
    {
        Require.AtLeast(ratings.Subjects, 2, "Subjects");
        Require.AtLeast(ratings.Raters, 2, "Raters");
        double n = ratings.Subjects;
        double m = ratings.Raters;
        var ranks = Enumerable
            .Range(0, ratings.Raters)
            .Select(r => Descriptive.MidRanks(ratings.Column(r)))
            .ToArray();
        var sums = Enumerable.Range(0, ratings.Subjects).Select(s => ranks.Sum(r => r[s])).ToArray();
        var spread = Descriptive.SumOfSquares(sums);
        var ties = ranks.Sum(TieTerm);
        var most = (m * m * ((n * n * n) - n)) - (m * ties);
        Require.That(
            most > 0,
            "Concordance can't be computed: every rater gave all subjects the same rating."
        );
        var w = 12 * spread / most;
        var chi = m * (n - 1) * w;
        return new ConcordanceResult(
            spread,
            w,
            12 * spread / (m * m * ((n * n * n) - n)),
            chi,
            ratings.Subjects - 1,
            Distributions.ChiSquareUpper(chi, n - 1),
            MeanSpearman(ranks)
        );
    }

    /// <summary>
    /// An interval for W of two raters, by way of their rank correlation 2W − 1: Fisher's z with the error of Bonett DG, Wright
    /// TA (2000) Psychometrika 65:23-28. None at the ends, or with fewer than five subjects.
    /// </summary>
    public static Interval? OfTwoRaters(double w, int subjects, double confidence = 0.95)
    {
        var correlation = (2 * w) - 1;
        if (subjects < 5 || Math.Abs(correlation) > 1 - 1e-9)
        {
            return null;
        }

        var reach =
            Distributions.NormalMultiplier(confidence)
            * Math.Sqrt((1 + (correlation * correlation / 2)) / (subjects - 3));
        return Interval.Around(Math.Atanh(correlation), reach).Map(z => (1 + Math.Tanh(z)) / 2);
    }

    private static double TieTerm(double[] ranks) =>
        ranks.GroupBy(r => r).Sum(g => Math.Pow(g.Count(), 3) - g.Count());

    private static double? MeanSpearman(double[][] ranks)
    {
        var pairs = ranks
            .SelectMany((a, i) => ranks.Skip(i + 1).Select(b => Descriptive.Correlation(a, b)))
            .ToList();
        return pairs.Any(p => p is null) ? null : pairs.Average();
    }
}
