using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// Coefficients beside kappa and the intraclass correlation, each with its interval: Gwet's AC1 and AC2, Krippendorff's
/// alpha by the metric that fits, Kendall's W.
/// </summary>
internal sealed class AgreementCoefficientTables(RaterPair pair, StudyOptions options)
{
    private readonly AgreementItems _items = new(pair, options);
    private readonly string _interval = Figures.Percent(options.Confidence) + " interval";

    /// <summary>Answers with levels or options.</summary>
    public EvidenceTable Levels() =>
        new(
            "coefficients-levels",
            "Answers with levels or options, further coefficients",
            [
                Figures.Column("item", "Answer"),
                Figures.Column("n", "Both tried"),
                Figures.Column("ac1", "Gwet’s AC1"),
                Figures.IntervalColumn("ac1-interval", _interval),
                Figures.Column("ac2", "Gwet’s AC2"),
                Figures.IntervalColumn("ac2-interval", _interval),
                Figures.Column("alpha-nominal", "Alpha, nominal"),
                Figures.IntervalColumn("alpha-nominal-interval", _interval),
                Figures.Column("alpha-ordinal", "Alpha, ordinal"),
                Figures.IntervalColumn("alpha-ordinal-interval", _interval),
            ],
            [.. _items.Keys(AgreementItems.HasLevels).Select(Row)],
            "AC1 counts only the same level as agreement, AC2 near levels in part (quadratic weights). Both bear it well when nearly all "
                + "answers are alike. Alpha is Krippendorff’s; its intervals are resampled over sittings, those of AC follow Gwet’s formula."
        );

    /// <summary>Counts, times and lengths, and the totals of the protocol.</summary>
    public EvidenceTable Numbers() =>
        new(
            "coefficients-numbers",
            "Numbers, further coefficients",
            [
                Figures.Column("item", "Value"),
                Figures.Column("n", "Both known"),
                Figures.Column("alpha-interval-metric", "Alpha, interval"),
                Figures.IntervalColumn("alpha-interval-metric-interval", _interval),
                Figures.Column("alpha-ratio", "Alpha, ratio"),
                Figures.IntervalColumn("alpha-ratio-interval", _interval),
                Figures.Column("w", "Kendall’s W"),
                Figures.IntervalColumn("w-interval", _interval),
            ],
            [
                .. _items
                    .Keys(k => k.Response.IsNumber)
                    .Select(k => NumberRow(AgreementItems.Label(k), _items.Numbers(k))),
                .. new AgreementOutcomes(pair, options)
                    .TotalValues()
                    .Select(t => NumberRow(t.Title, t.Values)),
            ],
            "Alpha counts squared differences (interval) or squared differences relative to the size (ratio, for values from zero); its intervals are "
                + "resampled over sittings. W looks at order alone: 1 where both raters order the children alike, 0.5 where the orders have nothing to do with each other."
        );

    private IReadOnlyList<EvidenceCell> Row(KeptLines kept)
    {
        var values = _items.Values(kept);
        var levels = Enumerable
            .Range(0, AgreementItems.LevelNames(kept.Response).Count)
            .Select(i => (double)i)
            .ToList();
        var matrix = Matrix(values);
        var ordered = kept.Response.Kind == ResponseKind.Rating;
        return
        [
            EvidenceCell.Of(AgreementItems.Label(kept)),
            EvidenceCell.Of(values.Count),
            .. Gwet(WeightKind.Identity),
            .. ordered ? Gwet(WeightKind.Quadratic) : NoOrder(),
            .. AgreementCoefficients.AlphaCells(matrix, AlphaMetric.Nominal, options),
            .. ordered ? AgreementCoefficients.AlphaCells(matrix, AlphaMetric.Ordinal, options) : NoOrder(),
        ];

        IEnumerable<EvidenceCell> Gwet(WeightKind kind) =>
            AgreementCoefficients.GwetCells(matrix, kind, levels, options);
    }

    private IReadOnlyList<EvidenceCell> NumberRow(
        string label,
        IReadOnlyList<(double First, double Second)> values
    )
    {
        var matrix = Matrix(values);
        var w = Figures.OrNull(() => matrix is null ? null! : KendallConcordance.Of(matrix));
        return
        [
            EvidenceCell.Of(label),
            EvidenceCell.Of(values.Count),
            .. AgreementCoefficients.AlphaCells(matrix, AlphaMetric.Interval, options),
            .. AgreementCoefficients.AlphaCells(matrix, AlphaMetric.Ratio, options),
            EvidenceCell.Of(w?.W),
            Figures.Between(
                w is null ? null : KendallConcordance.OfTwoRaters(w.W, values.Count, options.Confidence)
            ),
        ];
    }

    private static EvidenceCell[] NoOrder() => [EvidenceCell.Of("no order"), EvidenceCell.Of("no order")];

    private static RatingMatrix? Matrix(IReadOnlyList<(double First, double Second)> values) =>
        values.Count < 2 ? null : RatingMatrix.FromRows([.. values.Select(v => new[] { v.First, v.Second })]);
}
