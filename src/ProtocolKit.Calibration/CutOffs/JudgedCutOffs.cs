using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.CutOffs;

/// <summary>A modified Angoff cut.</summary>
/// <param name="Trimmed">Without the strictest and mildest judge; null with fewer than three.</param>
/// <param name="Error">SD of judges / √judges: for other judges over the same items.</param>
/// <param name="ErrorJudgesAndItems">Also for other items: items × √(judge/n + item/k + residual/nk), negative components as 0.</param>
public sealed record AngoffResult(
    IReadOnlyList<double> JudgeSums,
    double Mean,
    double Median,
    double? Trimmed,
    double DeviationOfJudges,
    double Error,
    IReadOnlyList<double> ItemMeans,
    double JudgeVariance,
    double ItemVariance,
    double ResidualVariance,
    double ErrorJudgesAndItems
);

/// <summary>Angoff WH (1971) in Educational Measurement, 2nd ed.: judges estimate how a borderline child does on each item.</summary>
public static class Angoff
{
    /// <summary>A row each judge, a column each item: probabilities, or expected scores of items with more points.</summary>
    public static AngoffResult Of(RatingMatrix judgeByItem)
    {
        var anova = IntraclassCorrelation.Anova(judgeByItem); // judges in rows, items in columns
        var (judges, items) = (judgeByItem.Subjects, judgeByItem.Raters);
        var sums = Enumerable.Range(0, judges).Select(j => judgeByItem.Present(j).Sum()).ToArray();
        var deviation = Descriptive.StandardDeviation(sums);
        var trimmed = sums.Order().Skip(1).SkipLast(1).ToArray();
        var (judge, item, rest) = (anova.TargetVariance, anova.JudgeVariance, anova.MeanError);
        return new AngoffResult(
            sums,
            sums.Average(),
            Descriptive.Median(sums),
            trimmed.Length > 0 ? trimmed.Average() : null,
            deviation,
            deviation / Math.Sqrt(judges),
            [.. Enumerable.Range(0, items).Select(i => judgeByItem.Column(i).Average())],
            judge,
            item,
            rest,
            items
                * Math.Sqrt(
                    (Math.Max(0, judge) / judges)
                        + (Math.Max(0, item) / items)
                        + (rest / ((double)judges * items))
                )
        );
    }
}

/// <summary>The total predicted for a borderline judgement.</summary>
public sealed record BorderlineRegression(
    double Intercept,
    double Slope,
    double RSquare,
    double Rmse,
    double Cut
);

/// <summary>Borderline group and borderline regression: Livingston SA, Zieky MJ (1982) Passing Scores, ETS.</summary>
public static class BorderlineGroup
{
    /// <summary>Totals regressed on global judgements, read off at the judgement called borderline. RMSE has n − 2 below.</summary>
    public static BorderlineRegression Regression(
        IReadOnlyList<double> judgements,
        IReadOnlyList<double> totals,
        double borderline
    )
    {
        var line = Change.LinearRegression.Of(judgements, totals);
        return new BorderlineRegression(
            line.Intercept,
            line.Slope,
            line.RSquare,
            line.Residual,
            line.At(borderline)
        );
    }
}

/// <summary>The Hofstee compromise: a cut, or the reason there is none.</summary>
public sealed record HofsteeResult(
    double? Cut,
    double? FailPercent,
    string? Reason,
    IReadOnlyList<(int Cut, double Percent)> Curve
);

/// <summary>
/// Hofstee WKB (1983), as described in Mills CN, Melican GJ (1987) ERIC ED283842. The fail curve (percent of totals
/// below k at whole k, joined by straight lines) meets the line from (least cut, most failing) to (most cut, least failing).
/// </summary>
public static class Hofstee
{
    public static HofsteeResult Of(
        IReadOnlyList<double> totals,
        int leastCut,
        int mostCut,
        double leastFail,
        double mostFail
    )
    {
        Require.AtLeast(totals.Count, 1, "Totals");
        Require.That(
            leastCut < mostCut && leastFail < mostFail,
            "The box needs a lower and a higher cut, and a lower and a higher percentage."
        );
        var curve = Enumerable
            .Range(leastCut, mostCut - leastCut + 1)
            .Select(k => (Cut: k, Percent: 100.0 * totals.Count(t => t < k) / totals.Count))
            .ToArray();
        double Line(double k) => mostFail + ((k - leastCut) * (leastFail - mostFail) / (mostCut - leastCut));
        for (var i = 0; i + 1 < curve.Length; i++)
        {
            var (from, to) = (
                curve[i].Percent - Line(curve[i].Cut),
                curve[i + 1].Percent - Line(curve[i + 1].Cut)
            );
            if (from <= 0 && to >= 0 && to > from)
            {
                var cut = curve[i].Cut + (-from / (to - from));
                return new HofsteeResult(cut, Line(cut), null, curve);
            }
        }

        return new HofsteeResult(null, null, "curve and line do not cross inside the box", curve);
    }
}
