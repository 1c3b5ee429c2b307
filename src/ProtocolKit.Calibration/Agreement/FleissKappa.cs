namespace ProtocolKit.Calibration.Agreement;

/// <summary>Fleiss' kappa with its test against zero, overall and for each category.</summary>
/// <param name="SubjectAgreement">P_i, the share of agreeing pairs of raters on each subject.</param>
/// <param name="CategoryShares">p_j, the share of all ratings in each category.</param>
/// <param name="NullStandardError">Under the hypothesis of no agreement; no basis for an interval.</param>
/// <param name="CategoryKappas">Null for a category that nobody or everybody always used.</param>
public sealed record FleissResult(
    IReadOnlyList<double> SubjectAgreement,
    double Observed,
    IReadOnlyList<double> CategoryShares,
    double Expected,
    double Kappa,
    double NullStandardError,
    double Z,
    IReadOnlyList<double?> CategoryKappas,
    double CategoryStandardError,
    int Raters
);

/// <summary>
/// Kappa of many raters: Fleiss JL (1971) Psychological Bulletin 76:378-382, standard errors of Fleiss JL, Nee JCM, Landis
/// JR (1979) Psychological Bulletin 86:974-977. Complete data with the same number of ratings for every subject; for
/// others see <see cref="GwetAgreement"/>, for chance from each rater's own shares <see cref="CongerKappa"/>.
/// </summary>
public static class FleissKappa
{
    /// <summary>From counts: a row each subject, a column each declared category.</summary>
    public static FleissResult Of(IReadOnlyList<IReadOnlyList<double>> counts)
    {
        Require.AtLeast(counts.Count, 1, "Subjects");
        var raters = counts[0].Sum();
        var categories = counts[0].Count;
        Require.That(
            counts.All(c => c.Count == categories && c.Sum() == raters),
            "Fleiss' kappa needs as many ratings for every subject; use Gwet's methods where some are missing."
        );
        Require.That(raters >= 2, "Fleiss' kappa needs at least two ratings for each subject.");
        double subjects = counts.Count;
        var agreement = counts.Select(c => c.Sum(n => n * (n - 1)) / (raters * (raters - 1))).ToArray();
        var shares = Enumerable
            .Range(0, categories)
            .Select(j => counts.Sum(c => c[j]) / (subjects * raters))
            .ToArray();
        var (observed, expected) = (agreement.Average(), shares.Sum(p => p * p));
        Require.That(expected < 1, "Kappa can't be computed: all ratings are in one category.");

        var spread = shares.Sum(p => p * (1 - p));
        var skew = shares.Sum(p => p * (1 - p) * (1 - p - p));
        var pairs = subjects * raters * (raters - 1);
        var error = Math.Sqrt(2 / pairs) * Math.Sqrt((spread * spread) - skew) / spread;
        var kappa = (observed - expected) / (1 - expected);
        var byCategory = shares
            .Select(
                (p, j) =>
                    p is > 0 and < 1
                        ? 1 - (counts.Sum(c => c[j] * (raters - c[j])) / (pairs * p * (1 - p)))
                        : (double?)null
            )
            .ToArray();
        return new FleissResult(
            agreement,
            observed,
            shares,
            expected,
            kappa,
            error,
            kappa / error,
            byCategory,
            Math.Sqrt(2 / pairs),
            (int)raters
        );
    }

    /// <summary>Counts of a complete table of ratings over declared levels (those that occur, where none are given).</summary>
    public static double[][] Counts(RatingMatrix ratings, IReadOnlyList<double>? levels = null)
    {
        levels ??= ratings.Levels();
        return
        [
            .. Enumerable
                .Range(0, ratings.Subjects)
                .Select(s => levels.Select(l => (double)ratings.Present(s).Count(v => v == l)).ToArray()),
        ];
    }
}
