using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Norms;
using ProtocolKit.Calibration.Resampling;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Coefficients with intervals for any number of raters: Gwet's by formula, Krippendorff's alpha by resampling sittings.</summary>
internal static class AgreementCoefficients
{
    /// <summary>Where more than this share of resamples has no figure, their spread says nothing.</summary>
    private const double MostWithout = 0.05;

    private const double None = double.MaxValue;

    /// <summary>Krippendorff's alpha and its interval; not defined where there is no table.</summary>
    public static IEnumerable<EvidenceCell> AlphaCells(
        RatingMatrix? ratings,
        AlphaMetric metric,
        StudyOptions options
    ) =>
        [
            EvidenceCell.Of(ratings is null ? null : Alpha(ratings, metric)),
            ratings is null
                ? EvidenceCell.Of(Figures.NotDefined)
                : Resampled(ratings, r => Alpha(r, metric), options),
        ];

    /// <summary>Gwet's AC and its interval; not defined where there is no table.</summary>
    public static IEnumerable<EvidenceCell> GwetCells(
        RatingMatrix? ratings,
        WeightKind kind,
        IReadOnlyList<double> levels,
        StudyOptions options
    )
    {
        var ac = ratings is null
            ? null
            : Figures.OrNull(() => GwetAgreement.Of(ratings, kind, levels, options.Confidence).Ac());
        return [EvidenceCell.Of(ac?.Coefficient), Interval(ac)];
    }

    private static double? Alpha(RatingMatrix ratings, AlphaMetric metric) =>
        Figures.NumberOrNull(() => KrippendorffAlpha.Of(ratings).Alpha(metric));

    /// <summary>Gwet's interval; none where its error is 0.</summary>
    public static EvidenceCell Interval(AgreementCoefficient? coefficient) =>
        coefficient is { StandardError: > 1e-6 }
            ? Figures.Between(coefficient.Interval)
            : EvidenceCell.Of(Figures.NotDefined);

    /// <summary>The percentile interval over sittings drawn anew; resamples without a figure are left out while they are few.</summary>
    private static EvidenceCell Resampled(
        RatingMatrix ratings,
        Func<RatingMatrix, double?> statistic,
        StudyOptions options
    )
    {
        if (ratings.Subjects < 2 || statistic(ratings) is null)
        {
            return EvidenceCell.Of(Figures.NotDefined);
        }

        var rows = Enumerable
            .Range(0, ratings.Subjects)
            .Select(s =>
                (IReadOnlyList<double?>)[.. Enumerable.Range(0, ratings.Raters).Select(r => ratings[s, r])]
            )
            .ToList();
        var all = Bootstrap.Resample(
            rows.Count,
            options.Resamples,
            options.Seed,
            drawn => statistic(RatingMatrix.FromRows([.. drawn.Select(i => rows[i])])) ?? None,
            options.Threads
        );
        var known = all.Where(v => v != None).Order().ToList();
        var tail = (1 - options.Confidence) / 2;
        return known.Count < all.Length * (1 - MostWithout) || known[^1] - known[0] < 1e-9
            ? EvidenceCell.Of(Figures.NotDefined)
            : EvidenceCell.Between(
                SampleQuantiles.OfSorted(known, tail, 6),
                SampleQuantiles.OfSorted(known, 1 - tail, 6),
                2
            );
    }
}
