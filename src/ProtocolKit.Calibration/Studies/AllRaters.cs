using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>More than two raters: coefficients that take any number of them and bear missing records.</summary>
internal sealed class AllRaters(Protocol protocol, RaterPairs pairs, StudyOptions options)
{
    private readonly string _interval = Figures.Percent(options.Confidence) + " interval";

    public EvidenceSection Section() => new("All raters together", [], [Ratings(), Numbers()], []);

    private EvidenceTable Ratings() =>
        new(
            "all-raters",
            "Ratings by any number of raters",
            [
                Figures.Column("item", "Answer"),
                Figures.Column("n", "Sittings"),
                Figures.Column("complete", "Rated by all"),
                Figures.Column("fleiss", "Fleiss’ kappa"),
                Figures.IntervalColumn("fleiss-interval", _interval),
                Figures.Column("alpha", "Alpha, ordinal"),
                Figures.IntervalColumn("alpha-interval", _interval),
                Figures.Column("ac2", "Gwet’s AC2"),
                Figures.IntervalColumn("ac2-interval", _interval),
                Figures.Column("icc", "ICC(A,1)"),
            ],
            [.. protocol.Program.Kept.Where(k => k.Response.Kind == ResponseKind.Rating).Select(RatingRow)],
            "Fleiss’ kappa uses sittings rated by all; the others also those with a record missing. Alpha is Krippendorff’s, its interval resampled "
                + "over sittings. The intraclass correlation comes from variance components."
        );

    private EvidenceTable Numbers() =>
        new(
            "all-raters-numbers",
            "Numbers by any number of raters",
            [
                Figures.Column("item", "Value"),
                Figures.Column("n", "Sittings"),
                Figures.Column("complete", "Known from all"),
                Figures.Column("icc-agreement", "ICC(A,1)"),
                Figures.Column("icc-consistency", "ICC(C,1)"),
                Figures.Column("alpha", "Alpha, interval"),
                Figures.IntervalColumn("alpha-interval", _interval),
                Figures.Column("w", "Kendall’s W"),
            ],
            [
                .. protocol
                    .Program.Kept.Where(k => k.Response.IsNumber)
                    .Select(k => NumberRow(AgreementItems.Label(k), Matrix(s => Known(s, k)))),
                .. protocol
                    .Outcomes.Where(ScoreValues.IsTotal)
                    .Select(o => NumberRow(o.Title, Matrix(s => ScoreValues.Exact(s, o)))),
            ],
            "Intraclass correlations come from variance components and bear missing records; A counts differences between raters as error, C doesn’t. "
                + "Kendall’s W uses sittings known from all."
        );

    private IReadOnlyList<EvidenceCell> RatingRow(KeptLines kept)
    {
        var matrix = Matrix(s => Known(s, kept));
        var complete = matrix.CompleteRows();
        var levels = Enumerable.Range(0, kept.Response.Scale!.Levels.Count).Select(i => (double)i).ToList();
        var fleiss = Figures.OrNull(() =>
            GwetAgreement.Of(complete, WeightKind.Identity, levels, options.Confidence).Fleiss()
        );
        return
        [
            EvidenceCell.Of(AgreementItems.Label(kept)),
            EvidenceCell.Of(Rated(matrix)),
            EvidenceCell.Of(complete.Subjects),
            EvidenceCell.Of(fleiss?.Coefficient),
            AgreementCoefficients.Interval(fleiss),
            .. AgreementCoefficients.AlphaCells(matrix, AlphaMetric.Ordinal, options),
            .. AgreementCoefficients.GwetCells(matrix, WeightKind.Quadratic, levels, options),
            EvidenceCell.Of(Figures.NumberOrNull(() => CrossedVariance.Of(matrix).AgreementSingle)),
        ];
    }

    private IReadOnlyList<EvidenceCell> NumberRow(string label, RatingMatrix matrix)
    {
        var variance = Figures.OrNull(() => CrossedVariance.Of(matrix));
        var complete = matrix.CompleteRows();
        return
        [
            EvidenceCell.Of(label),
            EvidenceCell.Of(Rated(matrix)),
            EvidenceCell.Of(complete.Subjects),
            EvidenceCell.Of(Figures.NumberOrNull(() => variance?.AgreementSingle)),
            EvidenceCell.Of(Figures.NumberOrNull(() => variance?.ConsistencySingle)),
            .. AgreementCoefficients.AlphaCells(matrix, AlphaMetric.Interval, options),
            EvidenceCell.Of(Figures.NumberOrNull(() => KendallConcordance.Of(complete).W)),
        ];
    }

    /// <summary>Sittings that two raters or more have a value for.</summary>
    private static int Rated(RatingMatrix matrix) =>
        Enumerable.Range(0, matrix.Subjects).Count(s => matrix.Present(s).Count() > 1);

    private RatingMatrix Matrix(Func<StudySitting, double?> value) =>
        RatingMatrix.FromRows([
            .. pairs.Sittings.Select(s =>
                (IReadOnlyList<double?>)
                    [.. pairs.Raters.Select(r => s.TryGetValue(r, out var sitting) ? value(sitting) : null)]
            ),
        ]);

    private static double? Known(StudySitting sitting, KeptLines kept) =>
        AgreementItems.IsKnown(sitting, kept) ? sitting.Scored.Lines[kept.LowLine] : null;
}
