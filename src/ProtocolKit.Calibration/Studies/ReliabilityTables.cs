using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Reliability;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>How a score's items hang together, and how each goes with the cut-offs.</summary>
internal static class ReliabilityTables
{
    public static EvidenceTable Consistency(ScoreItems score, StudyOptions options)
    {
        var matrix = score.Rows.Count == 0 ? null : RatingMatrix.FromRows(score.Rows);
        var alpha = matrix is null
            ? null
            : Figures.OrNull(() => CronbachAlpha.Of(matrix, options.Confidence));
        var omega = Figures.NumberOrNull(() =>
            matrix is not null
            && ItemCovariance.Correlations(ItemCovariance.Of(matrix)) is { } r
            && score.Items.Count > 2
                ? Omega.OneFactor(r)
                : null
        );
        var half = Figures.OrNull(() => SplitHalf.Of(Half(score, 0), Half(score, 1)));
        var longer = alpha is { Alpha: > 0 and < 1 } a
            ? Figures.NumberOrNull(() => SpearmanBrown.LengthFor(a.Alpha, 0.9))
            : null;
        var none = EvidenceCell.Of("");
        return new EvidenceTable(
            $"reliability-{score.Outcome.Name}",
            $"{score.Outcome.Title}: how the items hang together",
            [
                Figures.Column("figure", "Figure"),
                Figures.Column("value", "Value"),
                Figures.IntervalColumn("interval", Figures.Percent(options.Confidence) + " interval"),
            ],
            [
                [
                    EvidenceCell.Of("Cronbach’s alpha (Feldt’s interval)"),
                    EvidenceCell.Of(alpha?.Alpha),
                    Figures.Between(alpha?.Feldt),
                ],
                [EvidenceCell.Of("Omega, one factor"), EvidenceCell.Of(omega), none],
                [
                    EvidenceCell.Of("Odd and even items, Spearman–Brown"),
                    EvidenceCell.Of(half?.SpearmanBrown),
                    none,
                ],
                [
                    EvidenceCell.Of("Mean correlation of two items"),
                    EvidenceCell.Of(alpha?.MeanCorrelation),
                    none,
                ],
                [
                    EvidenceCell.Of("Error of one total, in its points"),
                    EvidenceCell.Of(alpha?.MeasurementError),
                    none,
                ],
                [
                    EvidenceCell.Of("Times as many items for 0.90 (Spearman–Brown)"),
                    EvidenceCell.Of(longer),
                    none,
                ],
            ],
            $"{score.Rows.Count} children with every item known, all ages together."
        );
    }

    /// <summary>B-index and item phi: does the item go with the table's worst band? Points at the highest count as right.</summary>
    public static EvidenceTable? WithCutOffs(ScoreItems score, Protocol protocol)
    {
        if (ScoreValues.TableOf(protocol, score.Outcome) is not { } table)
        {
            return null;
        }

        var passed = score
            .Complete.Select(c => c.Scored.Bands.First(b => ReferenceEquals(b.Table, table)).Band)
            .Select(b => b is null || b.Name == table.Bands[0].Name ? 0.0 : 1.0)
            .ToList();
        var right = score
            .Rows.Select(r => r.Select((v, i) => v == score.Items[i].High ? 1.0 : 0.0).ToArray())
            .ToList();
        var rows = Figures.OrNull(() => CriterionReferencedItems.Of(right, passed, 1));
        return rows is null
            ? null
            : new EvidenceTable(
                $"criterion-{score.Outcome.Name}",
                $"{score.Outcome.Title}: items beside the protocol’s worst band",
                [
                    Figures.Column("item", "Item"),
                    Figures.Column("pass", "Full points, not in the worst band"),
                    Figures.Column("fail", "Full points, in the worst band"),
                    Figures.Column("b-index", "B-index"),
                    Figures.Column("phi", "Item phi"),
                ],
                [
                    .. rows.Select(
                        (r, i) =>
                            (IReadOnlyList<EvidenceCell>)
                                [
                                    EvidenceCell.Of(score.Items[i].Label),
                                    EvidenceCell.Of(r.FacilityPass),
                                    EvidenceCell.Of(r.FacilityFail),
                                    EvidenceCell.Of(r.BIndex),
                                    EvidenceCell.Of(r.Phi),
                                ]
                    ),
                ],
                $"B-index: the first share minus the second. {passed.Count(p => p == 0)} of {passed.Count} children stand in the worst band by the protocol as it is."
            );
    }

    private static List<double> Half(ScoreItems score, int parity) =>
        [.. score.Rows.Select(r => r.Where((_, i) => i % 2 == parity).Sum())];
}
