using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Calibration.Reliability;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Tables of an item study that need no more than counts, means and correlations.</summary>
internal static class ItemTables
{
    public static EvidenceTable Difficulty(ScoreItems score)
    {
        var totals = score.Rows.Select(r => r.Sum()).ToList();
        var statistics =
            score.Rows.Count == 0
                ? null
                : Figures.OrNull(() => ItemStatistics.Of(RatingMatrix.FromRows(score.Rows)));
        var rows = score.Items.Select((item, i) => Row(score, item, i, totals, statistics?[i])).ToList();
        return new EvidenceTable(
            $"items-{score.Outcome.Name}",
            $"{score.Outcome.Title}: item by item",
            [
                Figures.Column("item", "Item"),
                Figures.Column("n", "Known"),
                Figures.Column("mean", "Mean points"),
                Figures.Column("sd", "SD"),
                Figures.Column("facility", "Share of points reached"),
                Figures.Column("floor", "At the lowest"),
                Figures.Column("ceiling", "At the highest"),
                Figures.Column("item-rest", "Correlation with the rest"),
                Figures.Column("alpha-dropped", "Alpha without it"),
                Figures.Column("discrimination", "Upper minus lower 27 %"),
            ],
            rows,
            $"The last three columns use the {score.Complete.Count} children with every item known. An item nearly everybody does, or nobody, tells children apart badly; "
                + "one that goes with the rest below about 0.2 measures something else (common practice, no source). That can still be worth knowing clinically."
        );
    }

    public static ItemMapPlot Map(ScoreItems score)
    {
        var items = score
            .Items.Select(i => (i.Label, Share: Facility(score, i)))
            .Where(i => i.Share is not null)
            .Select(i => (i.Label, i.Share!.Value))
            .OrderByDescending(i => i.Value)
            .ThenBy(i => i.Label, StringComparer.Ordinal)
            .ToList();
        return new ItemMapPlot(
            $"{score.Outcome.Title}: from the easiest to the hardest item",
            items.Count == 0
                ? "No item is known for any child."
                : $"Easiest: {items[0].Label}, {Figures.Number(items[0].Value)} of the points reached. Hardest: {items[^1].Label}, {Figures.Number(items[^1].Value)}.",
            "share of points reached",
            items
        );
    }

    /// <summary>Answers that were not tried, by code; answers everybody tried have no row.</summary>
    public static EvidenceTable Missing(Protocol protocol, IReadOnlyList<StudySitting> children) =>
        new(
            "untried",
            "What was not tried",
            [
                Figures.Column("answer", "Answer"),
                .. States.Untried.Select(u => Figures.Column(u.Code, u.Words)),
                Figures.Column("share", "Share of children"),
            ],
            [
                .. protocol
                    .Program.Kept.Select(k =>
                        (Kept: k, States: children.Select(c => (State)c.Scored.Lines[k.StateLine]).ToList())
                    )
                    .Where(k => k.States.Exists(s => s.IsUntried()))
                    .Select(k =>
                        (IReadOnlyList<EvidenceCell>)
                            [
                                EvidenceCell.Of(AgreementItems.Label(k.Kept)),
                                .. States.Untried.Select(u =>
                                    EvidenceCell.Of(k.States.Count(s => s == u.State))
                                ),
                                EvidenceCell.Of(k.States.Count(s => s.IsUntried()) / (double)children.Count),
                            ]
                    ),
            ],
            "A task that many children refuse or don’t understand wants other words, another place in the order, or another task."
        );

    public static EvidenceTable Sides(
        Protocol protocol,
        IReadOnlyList<StudySitting> children,
        StudyOptions options
    )
    {
        var sided = protocol
            .Program.Kept.Where(k => k.Task.IsSided && !k.Response.HasOptions)
            .GroupBy(k => (k.Task.Name, k.Response.Name))
            .Select(g =>
                (
                    Right: g.FirstOrDefault(k => k.Variant.Name == "right"),
                    Left: g.FirstOrDefault(k => k.Variant.Name == "left")
                )
            )
            .Where(p => p.Right is not null && p.Left is not null)
            .Select(p => SideRow(p.Right!, p.Left!, children, options))
            .ToList();
        return new EvidenceTable(
            "sides",
            "Right beside left",
            [
                Figures.Column("task", "Task"),
                Figures.Column("n", "Both known"),
                Figures.Column("right", "Mean, right"),
                Figures.Column("left", "Mean, left"),
                Figures.Column("difference", "Right minus left"),
                Figures.IntervalColumn("interval", Figures.Percent(options.Confidence) + " interval"),
                Figures.Column("right-higher", "Right higher"),
                Figures.Column("left-higher", "Left higher"),
            ],
            sided,
            "The child’s own sides. In most children both sides do alike; a difference in one child needs two agreeing tasks."
        );
    }

    private static IReadOnlyList<EvidenceCell> Row(
        ScoreItems score,
        ScoreItem item,
        int index,
        List<double> totals,
        ItemRow? statistics
    )
    {
        var known = score.Children.Select(item.Value).OfType<double>().ToList();
        var own = score.Rows.Select(r => r[index]).ToList();
        return
        [
            EvidenceCell.Of(item.Label),
            EvidenceCell.Of(known.Count),
            EvidenceCell.Of(known.Count == 0 ? null : Descriptive.Mean(known)),
            EvidenceCell.Of(known.Count < 2 ? null : Descriptive.StandardDeviation(known)),
            EvidenceCell.Of(Facility(score, item)),
            EvidenceCell.Of(known.Count == 0 ? null : known.Count(v => v == item.Low) / (double)known.Count),
            EvidenceCell.Of(known.Count == 0 ? null : known.Count(v => v == item.High) / (double)known.Count),
            EvidenceCell.Of(statistics?.ItemRest),
            EvidenceCell.Of(statistics?.AlphaIfDropped),
            EvidenceCell.Of(ExtremeGroups.Discrimination(own, totals, item.Low, item.High)),
        ];
    }

    private static double? Facility(ScoreItems score, ScoreItem item)
    {
        var known = score.Children.Select(item.Value).OfType<double>().ToList();
        return known.Count == 0 || item.High <= item.Low
            ? null
            : (Descriptive.Mean(known) - item.Low) / (item.High - item.Low);
    }

    private static IReadOnlyList<EvidenceCell> SideRow(
        KeptLines right,
        KeptLines left,
        IReadOnlyList<StudySitting> children,
        StudyOptions options
    )
    {
        var both = children
            .Select(c => (Right: ScoreItems.Points(c, right), Left: ScoreItems.Points(c, left)))
            .Where(v => v.Right is not null && v.Left is not null)
            .Select(v => (Right: v.Right!.Value, Left: v.Left!.Value))
            .ToList();
        var limits = Figures.OrNull(() =>
            BlandAltman.Limits(
                [.. both.Select(b => b.Right)],
                [.. both.Select(b => b.Left)],
                null,
                options.Confidence
            )
        );
        return
        [
            EvidenceCell.Of(right.Task.Title),
            EvidenceCell.Of(both.Count),
            EvidenceCell.Of(both.Count == 0 ? null : both.Average(b => b.Right)),
            EvidenceCell.Of(both.Count == 0 ? null : both.Average(b => b.Left)),
            EvidenceCell.Of(limits?.Bias),
            Figures.Between(limits?.BiasInterval),
            EvidenceCell.Of(both.Count(b => b.Right > b.Left)),
            EvidenceCell.Of(both.Count(b => b.Right < b.Left)),
        ];
    }
}
