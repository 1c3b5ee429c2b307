using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>
/// Kappa of two or more known raters, agreement by chance from each rater's own category shares: Conger AJ (1980)
/// Psychological Bulletin 88:322-328, with weights and the error over sampled subjects of Gwet KL (2014) Handbook of
/// Inter-Rater Reliability, 4th ed., chapter 2; the same as Cohen's kappa for two raters. Light RJ (1971) Psychological
/// Bulletin 76:365-377: the mean of Cohen's kappa over all pairs, its error by leaving out each subject once.
/// </summary>
public static class CongerKappa
{
    /// <summary>Conger's kappa of a complete table; the interval is t with n − 1, cut at 1.</summary>
    /// <param name="weights">Agreement weights over <paramref name="levels"/>; identity where null.</param>
    /// <exception cref="NotEstimableException">One category only, missing ratings, fewer than two subjects or raters.</exception>
    public static AgreementCoefficient Of(
        RatingMatrix ratings,
        double[,]? weights = null,
        IReadOnlyList<double>? levels = null,
        double confidence = 0.95
    )
    {
        levels ??= ratings.Levels();
        var w = Weights(ratings, weights, levels, confidence);
        var (n, r, q) = (ratings.Subjects, ratings.Raters, levels.Count);
        var counts = FleissKappa.Counts(ratings, levels);
        var shares = Enumerable.Range(0, r).Select(g => Shares(ratings.Column(g), levels)).ToArray();
        var mean = Enumerable.Range(0, q).Select(k => shares.Average(s => s[k])).ToArray();
        double pairs = r * (r - 1);
        var own = counts.Select(c =>
            (Weighted(c, c, w) - Enumerable.Range(0, q).Sum(k => c[k] * w[k, k])) / pairs
        );
        var agreement = own.ToArray();

        // Chance agreement of two different raters: all pairs of shares less each rater's with itself.
        double[] sums = [.. mean.Select(m => m * r)];
        var expected = (Weighted(sums, sums, w) - shares.Sum(s => Weighted(s, s, w))) / pairs;
        Require.That(expected < 1, "Kappa can't be computed: all ratings are in one category.");
        var observed = agreement.Average();
        var kappa = (observed - expected) / (1 - expected);
        var error = 0.0;
        for (var s = 0; s < n; s++)
        {
            // What this subject adds to chance agreement: its raters' categories against the other raters' shares.
            var chance = 0.0;
            for (var g = 0; g < r; g++)
            {
                double[] others = [.. Enumerable.Range(0, q).Select(k => sums[k] - shares[g][k])];
                double[] chosen = [.. levels.Select(l => ratings[s, g] == l ? 1.0 : 0)];
                chance += (Weighted(chosen, others, w) + Weighted(others, chosen, w)) / 2;
            }

            var linear = (agreement[s] - expected) / (1 - expected);
            var slope = 2 * (1 - kappa) * ((chance / pairs) - expected) / (1 - expected);
            error += Math.Pow(linear - slope - kappa, 2);
        }

        return Coefficient(kappa, Math.Sqrt(error / (n * (n - 1.0))), observed, expected, n, confidence);
    }

    /// <summary>Light's kappa of a complete table: the mean over pairs of raters, with its jackknife error.</summary>
    /// <exception cref="NotEstimableException">A pair of raters that used one category only, or too few subjects or raters.</exception>
    public static AgreementCoefficient Light(
        RatingMatrix ratings,
        double[,]? weights = null,
        IReadOnlyList<double>? levels = null,
        double confidence = 0.95
    )
    {
        levels ??= ratings.Levels();
        var w = Weights(ratings, weights, levels, confidence);
        var columns = Enumerable.Range(0, ratings.Raters).Select(ratings.Column).ToArray();
        var n = ratings.Subjects;
        var whole = Mean(-1);
        double[] partial = [.. Enumerable.Range(0, n).Select(left => Mean(left).Kappa)];
        var error = Math.Sqrt((n - 1.0) * Descriptive.PopulationVariance(partial));
        return Coefficient(whole.Kappa, error, whole.Observed, whole.Expected, n, confidence);

        (double Kappa, double Observed, double Expected) Mean(int leftOut)
        {
            var results = new List<KappaResult>();
            for (var a = 0; a < columns.Length; a++)
            {
                for (var b = a + 1; b < columns.Length; b++)
                {
                    results.Add(CohenKappa.Of(Table(columns[a], columns[b], leftOut), w));
                }
            }

            return (
                results.Average(k => k.Kappa),
                results.Average(k => k.Observed),
                results.Average(k => k.Expected)
            );
        }

        AgreementTable Table(double[] first, double[] second, int leftOut) =>
            AgreementTable.FromPairs(
                [.. first.Select((v, s) => s == leftOut ? (double?)null : v)],
                [.. second.Select(v => (double?)v)],
                levels
            );
    }

    private static double[,] Weights(
        RatingMatrix ratings,
        double[,]? weights,
        IReadOnlyList<double> levels,
        double confidence
    )
    {
        Require.Level(confidence);
        Require.AtLeast(ratings.Raters, 2, "Raters");
        Require.AtLeast(ratings.Subjects, 2, "Subjects");
        Require.AtLeast(levels.Count, 2, "Categories");
        weights ??= AgreementWeights.For(WeightKind.Identity, levels);
        Require.That(
            weights.GetLength(0) == levels.Count,
            "There must be one weight for each pair of categories."
        );
        return weights;
    }

    private static double[] Shares(double[] ratings, IReadOnlyList<double> levels)
    {
        Require.That(ratings.All(levels.Contains), "A rating lies outside the declared levels.");
        return [.. levels.Select(l => ratings.Count(v => v == l) / (double)ratings.Length)];
    }

    private static double Weighted(double[] first, double[] second, double[,] weights)
    {
        var sum = 0.0;
        for (var k = 0; k < first.Length; k++)
        {
            for (var l = 0; l < second.Length; l++)
            {
                sum += first[k] * weights[k, l] * second[l];
            }
        }

        return sum;
    }

    private static AgreementCoefficient Coefficient(
        double kappa,
        double error,
        double observed,
        double expected,
        int subjects,
        double confidence
    )
    {
        var reach = Distributions.StudentMultiplier(confidence, subjects - 1) * error;
        return new AgreementCoefficient(
            kappa,
            error,
            observed,
            expected,
            new Interval(kappa - reach, Math.Min(1, kappa + reach)),
            subjects
        );
    }
}
