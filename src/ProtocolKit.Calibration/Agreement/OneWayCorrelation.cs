using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>The one-way intraclass correlation where subjects may have different numbers of ratings.</summary>
/// <param name="RatingsPerSubject">n₀ = (N − Σn² / N) / (subjects − 1), the number all would have in a like balanced design.</param>
/// <param name="SubjectVariance">(MSB − MSW) / n₀; may be negative.</param>
/// <param name="Average">The correlation of means of n₀ ratings, by Spearman–Brown; null where the single one is −1/(n₀ − 1).</param>
/// <param name="F">Infinite where ratings of a subject never differ; then there is no interval.</param>
/// <param name="Interval">Exact for equal numbers, with n₀ in their place otherwise (approximate).</param>
public sealed record OneWayResult(
    double MeanBetween,
    double MeanWithin,
    double Df1,
    double Df2,
    double F,
    double P,
    double RatingsPerSubject,
    double SubjectVariance,
    double Single,
    double? Average,
    Interval? Interval
);

/// <summary>
/// ICC(1) by analysis of variance: Donner A (1986) International Statistical Review 54:67-82, equations 1-4; with equal
/// numbers the ICC(1,1) of Shrout and Fleiss (1979). Which rater gave a rating doesn't count, only whom it is about.
/// </summary>
public static class OneWayCorrelation
{
    /// <summary>A row each subject; missing cells are left out, a subject with one rating still counts for the others' mean.</summary>
    /// <exception cref="NotEstimableException">Fewer than two subjects, no subject rated twice, or no variance.</exception>
    public static OneWayResult Of(RatingMatrix ratings, double confidence = 0.95)
    {
        Require.Level(confidence);
        var groups = Enumerable
            .Range(0, ratings.Subjects)
            .Select(s => ratings.Present(s).ToArray())
            .Where(g => g.Length > 0)
            .ToArray();
        double all = groups.Sum(g => g.Length);
        var (df1, df2) = (groups.Length - 1.0, all - groups.Length);
        Require.AtLeast(groups.Length, 2, "Rated subjects");
        Require.That(df2 > 0, "No subject has more than one rating, so agreement can't be seen.");
        var grand = groups.SelectMany(g => g).Average();
        var between = groups.Sum(g => g.Length * Math.Pow(g.Average() - grand, 2)) / df1;
        var within = groups.Sum(g => g.Sum(v => Math.Pow(v - g.Average(), 2))) / df2;
        Require.That(
            between + within > 0,
            "The intraclass correlation can't be estimated: all ratings are the same (0/0)."
        );
        var k = (all - (groups.Sum(g => (double)g.Length * g.Length) / all)) / df1;
        var single = (between - within) / (between + ((k - 1) * within));
        var f = within > 0 ? between / within : double.PositiveInfinity;
        var tail = (1 + confidence) / 2;
        Interval? interval = null;
        if (double.IsFinite(f))
        {
            var low = f / Distributions.FisherQuantile(tail, df1, df2);
            var high = f * Distributions.FisherQuantile(tail, df2, df1);
            interval = new Interval((low - 1) / (low + k - 1), (high - 1) / (high + k - 1));
        }

        return new OneWayResult(
            between,
            within,
            df1,
            df2,
            f,
            Distributions.FisherUpper(f, df1, df2),
            k,
            (between - within) / k,
            single,
            between > 0 ? (between - within) / between : null,
            interval
        );
    }
}
