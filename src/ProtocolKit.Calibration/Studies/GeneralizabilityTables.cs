using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Generalizability;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>How much of a score's differences comes from children, items, raters and days, and how many of each are needed.</summary>
internal static class GeneralizabilityTables
{
    private static readonly double[] Targets = [0.8, 0.85, 0.9];

    public static EvidenceTable Of(StudyData data, IReadOnlyList<ScoreItems> scores)
    {
        var rows = new List<IReadOnlyList<EvidenceCell>>();
        foreach (var score in scores)
        {
            Add(rows, score.Outcome.Title, "items", score.Items.Count, score.Rows);
            Add(rows, score.Outcome.Title, "raters", 1, Totals(Raters(data), score.Outcome));
            Add(rows, score.Outcome.Title, "sittings", 1, Totals(Sittings(data), score.Outcome));
        }

        return new EvidenceTable(
            "generalizability",
            "Children beside items, raters and sittings",
            [
                Figures.Column("score", "Score"),
                Figures.Column("facet", "Beside"),
                Figures.Column("n", "Children"),
                Figures.Column("person", "Share of variance: children"),
                Figures.Column("facet-share", "items, raters or sittings"),
                Figures.Column("residual", "rest"),
                Figures.Column("used", "As used"),
                Figures.Column("e-rho", "Eρ² as used"),
                Figures.Column("phi", "Φ as used"),
                Figures.Column("needed-80", "Needed for Φ 0.80"),
                Figures.Column("needed-85", "0.85"),
                Figures.Column("needed-90", "0.90"),
            ],
            rows,
            "Crossed designs with random effects; a negative share counts as 0. Eρ² is for putting children in order, Φ for levels and cut-offs. "
                + "As used: all items of the score, one rater, one sitting. Items: the mean of the items; with growing children of all ages together, shares of children are large."
        );
    }

    /// <summary>Children × items × sittings, for children seen twice with every item known.</summary>
    public static EvidenceTable ThreeWay(StudyData data, IReadOnlyList<ScoreItems> scores)
    {
        var rows = new List<IReadOnlyList<EvidenceCell>>();
        foreach (var score in scores)
        {
            var values = Sittings(data)
                .Select(p => score.Items.Select(i => new[] { i.Value(p.First), i.Value(p.Second) }).ToArray())
                .Where(v => v.All(i => i.All(x => x is not null)))
                .Select(v => v.Select(i => i.Select(x => x!.Value).ToArray()).ToArray())
                .ToArray();
            if (values.Length < 3 || Figures.OrNull(() => PersonByItemByOccasion.Of(values)) is not { } study)
            {
                continue;
            }

            var all = study.Components.Sum(c => c.Variance);
            rows.Add([
                EvidenceCell.Of(score.Outcome.Title),
                EvidenceCell.Of(values.Length),
                .. study.Components.Select(c => EvidenceCell.Of(all > 0 ? c.Variance / all : null)),
                EvidenceCell.Of(study.Decide(score.Items.Count, 1).Dependability),
                EvidenceCell.Of(study.Decide(score.Items.Count, 2).Dependability),
            ]);
        }

        return new EvidenceTable(
            "children-items-sittings",
            "Children × items × sittings: shares of variance",
            [
                Figures.Column("score", "Score"),
                Figures.Column("n", "Children"),
                Figures.Column("p", "children"),
                Figures.Column("i", "items"),
                Figures.Column("o", "sittings"),
                Figures.Column("pi", "child × item"),
                Figures.Column("po", "child × sitting"),
                Figures.Column("io", "item × sitting"),
                Figures.Column("pio", "rest"),
                Figures.Column("phi-1", "Φ, one sitting"),
                Figures.Column("phi-2", "Φ, two"),
            ],
            rows,
            rows.Count == 0 ? "Too few children were seen twice with every item known." : ""
        );
    }

    private static void Add(
        List<IReadOnlyList<EvidenceCell>> rows,
        string title,
        string facet,
        int used,
        IReadOnlyList<double[]> values
    )
    {
        if (
            values.Count < 3
            || Figures.OrNull(() => PersonByItem.Of(RatingMatrix.FromRows(values))) is not { } study
        )
        {
            return;
        }

        var all = study.Person.Variance + study.Item.Variance + study.Residual.Variance;
        var decided = study.Decide(used);
        rows.Add([
            EvidenceCell.Of(title),
            EvidenceCell.Of(facet),
            EvidenceCell.Of(values.Count),
            .. new[] { study.Person, study.Item, study.Residual }.Select(c =>
                EvidenceCell.Of(all > 0 ? c.Variance / all : null)
            ),
            EvidenceCell.Of(used),
            EvidenceCell.Of(decided.Generalizability),
            EvidenceCell.Of(decided.Dependability),
            .. Targets.Select(t =>
                study.Needed(t) is { } needed ? EvidenceCell.Of(needed) : EvidenceCell.Of("never")
            ),
        ]);
    }

    private static IReadOnlyList<(StudySitting First, StudySitting Second)> Raters(StudyData data)
    {
        try
        {
            return RaterPairs.Of(data).Pairs[0].Sittings;
        }
        catch (StudyRefusedException)
        {
            return [];
        }
    }

    private static IReadOnlyList<(StudySitting First, StudySitting Second)> Sittings(StudyData data) =>
        ChangeStudy.Pairs(data);

    private static List<double[]> Totals(
        IReadOnlyList<(StudySitting First, StudySitting Second)> pairs,
        Outcome outcome
    ) =>
        [
            .. pairs
                .Select(p =>
                    (A: ScoreValues.Exact(p.First, outcome), B: ScoreValues.Exact(p.Second, outcome))
                )
                .Where(v => v.A is not null && v.B is not null)
                .Select(v => new[] { v.A!.Value, v.B!.Value }),
        ];
}
