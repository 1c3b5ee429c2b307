using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.CutOffs;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Calibration.Reliability;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Cuts that rest on judgements of children, and how consistently a cut divides them.</summary>
internal static class StandardCuts
{
    /// <summary>Contrasting groups and the borderline group (Livingston and Zieky 1982).</summary>
    public static EvidenceTable Judgements(CutOffData data)
    {
        // Where high values are worse, the methods see the values upside down.
        var sign = data.LowIsWorse ? 1 : -1;
        var groups = Figures.OrNull(() =>
            new ContrastingGroups(
                [.. data.Judged.Where(c => c.IsCase).Select(c => sign * c.Value)],
                [.. data.Judged.Where(c => !c.IsCase).Select(c => sign * c.Value)]
            )
        );
        var logistic = groups is null ? null : Figures.OrNull(groups.Logistic);
        var border = data.Judged.Where(c => c.IsBorderline == true).Select(c => c.Value).ToList();
        return new EvidenceTable(
            $"judged-{data.Outcome.Name}",
            $"{data.Outcome.Title}: cuts from judgements of children",
            [
                Figures.Column("method", "Method"),
                Figures.Column("cut", "Cut"),
                Figures.Column("rests-on", "Rests on"),
            ],
            [
                Row(
                    "Contrasting groups: midway between the means",
                    sign * groups?.MidpointOfMeans,
                    Groups(data)
                ),
                Row(
                    "Contrasting groups: as many SDs from both means",
                    sign * groups?.WeightedPoint,
                    Groups(data)
                ),
                Row(
                    "Contrasting groups: logistic, both groups equally common",
                    sign * logistic?.CutEqualPrior,
                    Groups(data)
                ),
                Row(
                    "Borderline group: median of children judged at the edge",
                    border.Count == 0 ? null : Descriptive.Median(border),
                    border.Count == 0
                        ? "nobody was judged borderline"
                        : Figures.Count(border.Count, "child", "children")
                ),
            ],
            $"Values on the score’s own scale; {(data.LowIsWorse ? "lower" : "higher")} values speak for a case. Groups that don’t overlap have no logistic cut."
        );
    }

    /// <summary>Would a second, parallel sitting decide the same? At Youden's cut, from one sitting and its alpha.</summary>
    public static EvidenceTable? Consistency(
        CutOffData data,
        RocCurve curve,
        ScoreItems? items,
        StudyOptions options
    )
    {
        var best = curve.BestByYouden()[0];
        if (
            items is null
            || !double.IsFinite(best.Threshold)
            || !data.LowIsWorse
            || data.Outcome.Step != Rational.One
        )
        {
            return null;
        }

        var alpha = Figures.OrNull(() =>
            CronbachAlpha.Of(RatingMatrix.FromRows(items.Rows), options.Confidence)
        );
        if (alpha is null || alpha.Alpha is <= 0 or >= 1)
        {
            return null;
        }

        var totals = items.Rows.Select(r => r.Sum()).ToList();
        var (least, most) = (items.Items.Sum(i => i.Low), items.Items.Sum(i => i.High));
        var cut = (int)(data.LastPositive(best.Threshold) + 1).Numerator;
        var (mean, deviation) = (Descriptive.Mean(totals), Descriptive.StandardDeviation(totals));
        var normal = Figures.OrNull(() =>
            DecisionConsistency.BivariateNormal((cut - 0.5 - mean) / deviation, alpha.Alpha)
        );
        var binomial = Figures.OrNull(() =>
            DecisionConsistency
                .Binomial(
                    [.. totals.Select(t => t - least)],
                    (int)(most - least),
                    (int)(cut - least),
                    alpha.Alpha
                )
                .Result
        );
        var huynh = Figures.OrNull(() =>
            HuynhConsistency
                .Of((int)(most - least), mean - least, deviation * deviation, (int)(cut - least))
                .Table
        );
        var beta = Figures.OrNull(() => LivingstonLewis(totals, alpha.Alpha, cut, least, most));
        return new EvidenceTable(
            $"consistency-{data.Outcome.Name}",
            $"{data.Outcome.Title}: would another sitting decide the same? ({cut - 1} or less is pointed out)",
            [
                Figures.Column("method", "Method"),
                Figures.Column("consistent", "Decided alike twice"),
                Figures.Column("kappa", "Kappa"),
                Figures.Column("accurate", "Decided as the true score would"),
            ],
            [
                ConsistencyRow("Livingston and Lewis", beta?.Consistency, beta?.Accuracy),
                ConsistencyRow("Huynh", huynh?.Consistency, huynh?.Accuracy),
                ConsistencyRow("Subkoviak", binomial, null),
                ConsistencyRow("Peng and Subkoviak (normal)", normal, null),
            ],
            $"Huynh and Subkoviak take every point as an item of its own, right or wrong; Livingston and Lewis as many as the reliability allows. From one sitting of {totals.Count} children with every item known and alpha {Figures.Number(alpha.Alpha)}; all ages together."
        );
    }

    /// <summary>Livingston SA, Lewis C (1995) J Educ Meas 32:179-197: totals as so many independent items as their reliability allows.</summary>
    private static ClassificationResult LivingstonLewis(
        List<double> totals,
        double reliability,
        int cut,
        double least,
        double most
    )
    {
        var length = BetaBinomialClassification.EffectiveLength(
            Descriptive.Mean(totals),
            Descriptive.Variance(totals),
            reliability,
            least,
            most
        );
        var items = Math.Max(2, (int)Math.Round(length, MidpointRounding.AwayFromZero));
        var scaled = totals.Select(t => (t - least) / (most - least) * length).ToList();
        var moments = BetaFit.True(scaled, [.. scaled.Select(_ => 1.0)], length);
        var shape = BetaFit.FourParameters(moments);
        if (shape is null || !shape.IsPermissible)
        {
            shape = BetaFit.ThreeParameters(moments);
        }

        if (shape is null || !shape.IsPermissible)
        {
            shape = BetaFit.TwoParameters(moments);
        }

        var share = (cut - least) / (most - least);
        return BetaBinomialClassification.Of(
            shape,
            items,
            [share],
            [(int)Math.Round(share * items, MidpointRounding.AwayFromZero)]
        );
    }

    private static IReadOnlyList<EvidenceCell> ConsistencyRow(
        string method,
        ConsistencyResult? consistency,
        double? accuracy
    ) =>
        [
            EvidenceCell.Of(method),
            EvidenceCell.Of(consistency?.Agreement),
            EvidenceCell.Of(consistency?.Kappa),
            EvidenceCell.Of(accuracy, 2, "not given"),
        ];

    private static string Groups(CutOffData data) => $"{data.Cases} cases, {data.Others} others";

    private static IReadOnlyList<EvidenceCell> Row(string method, double? cut, string on) =>
        [EvidenceCell.Of(method), EvidenceCell.Of(cut), EvidenceCell.Of(on)];
}
