using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Tables of a cut-off study: areas, every cut of a score, the cuts each criterion picks.</summary>
internal static class CutTables
{
    public static EvidenceTable Areas(IReadOnlyList<CutOffData> scores, StudyOptions options)
    {
        var level = Figures.Percent(options.Confidence);
        var rows = scores.Select(s =>
        {
            var curve = s.Curve();
            return (IReadOnlyList<EvidenceCell>)
                [
                    EvidenceCell.Of(s.Outcome.Title),
                    EvidenceCell.Of(s.Judged.Count),
                    EvidenceCell.Of(s.Cases),
                    EvidenceCell.Of(s.Open),
                    EvidenceCell.Of(curve?.Area, 3),
                    Figures.Between(Area(curve, options)),
                    EvidenceCell.Of(curve?.DeLongVariance is { } v and > 0 ? Math.Sqrt(v) : null, 3),
                    EvidenceCell.Of(Figures.NumberOrNull(() => curve?.HanleyMcNeilError()), 3),
                ];
        });
        return new EvidenceTable(
            "areas",
            "How well each score tells cases from others",
            [
                Figures.Column("score", "Score"),
                Figures.Column("n", "Children"),
                Figures.Column("cases", "Cases"),
                Figures.Column("open", "Value left open"),
                Figures.Column("area", "Area under the curve"),
                Figures.IntervalColumn("interval", $"{level} interval (DeLong, logit)"),
                Figures.Column("delong-error", "Error, DeLong"),
                Figures.Column("hanley-error", "Error, Hanley and McNeil"),
            ],
            [.. rows],
            "0.5 is chance, 1 is perfect: the chance that a child with the need scores worse than one without, ties counted half. "
                + "Below 0.5 the score points the wrong way. With few cases, or perfect separation, no interval is given."
        );
    }

    /// <summary>Areas of scores compared on the same children.</summary>
    public static EvidenceTable Differences(
        IReadOnlyList<CutOffData> scores,
        IReadOnlyList<StudySitting> children,
        StudyOptions options
    )
    {
        var rows = new List<IReadOnlyList<EvidenceCell>>();
        for (var i = 0; i < scores.Count; i++)
        {
            for (var j = i + 1; j < scores.Count; j++)
            {
                if (Paired(scores[i], scores[j], children, options) is { } row)
                {
                    rows.Add(row);
                }
            }
        }

        return new EvidenceTable(
            "area-differences",
            "Scores compared on the same children (DeLong)",
            [
                Figures.Column("first", "Score"),
                Figures.Column("second", "beside"),
                Figures.Column("n", "Children with both"),
                Figures.Column("difference", "Difference of areas"),
                Figures.IntervalColumn("interval", Figures.Percent(options.Confidence) + " interval"),
                Figures.Column("p", "p"),
            ],
            rows,
            "Many comparisons are made here; a single small p among them is no finding."
        );
    }

    /// <summary>Every cut between two values that occur: counts, sensitivity, specificity.</summary>
    public static EvidenceTable Cuts(CutOffData data, RocCurve curve, StudyOptions options)
    {
        var level = Figures.Percent(options.Confidence);
        return new EvidenceTable(
            $"cuts-{data.Outcome.Name}",
            $"{data.Outcome.Title}: every cut",
            [
                Figures.Column("positive", "Points out"),
                Figures.Column("found", "Cases found"),
                Figures.Column("missed", "Cases missed"),
                Figures.Column("false-alarms", "False alarms"),
                Figures.Column("passed", "Others passed"),
                Figures.Column("sensitivity", "Sensitivity"),
                Figures.IntervalColumn("sensitivity-wilson", $"{level} (Wilson)"),
                Figures.Column("specificity", "Specificity"),
                Figures.IntervalColumn("specificity-wilson", $"{level} (Wilson)"),
            ],
            [.. Inner(curve).Select(p => CutRow(data, p, options))],
            ""
        );
    }

    /// <summary>Every cut again: exact intervals, predictive values, likelihood ratios.</summary>
    public static EvidenceTable Ratios(CutOffData data, RocCurve curve, StudyOptions options)
    {
        var level = Figures.Percent(options.Confidence);
        return new EvidenceTable(
            $"ratios-{data.Outcome.Name}",
            $"{data.Outcome.Title}: what a result means at every cut",
            [
                Figures.Column("positive", "Points out"),
                Figures.IntervalColumn("sensitivity-exact", $"Sensitivity, {level} exact"),
                Figures.IntervalColumn("specificity-exact", $"Specificity, {level} exact"),
                Figures.Column("ppv", "Right among pointed out"),
                Figures.Column("npv", "Right among passed"),
                Figures.Column("lr-plus", "LR+"),
                Figures.IntervalColumn("lr-plus-interval", $"{level} interval"),
                Figures.Column("lr-minus", "LR−"),
                Figures.IntervalColumn("lr-minus-interval", $"{level} interval"),
            ],
            [.. Inner(curve).Select(p => RatioRow(data, p, options))],
            $"Right among pointed out, and among passed: the predictive values where {Figures.Plain(options.Prevalence * 100)} of 100 children need help, as was asked; not the share in this pilot. "
                + "LR+ is how many times more often a case is pointed out than another child; without a false alarm it has no upper limit. LR−: how many times more often a case is passed than another child. Where a count is 0, no interval is given."
        );
    }

    public static EvidenceTable Criteria(CutOffData data, RocCurve curve, StudyOptions options)
    {
        var rows = new List<(string Criterion, IReadOnlyList<RocPoint> Points)>
        {
            ("Youden: sensitivity + specificity largest", curve.BestByYouden()),
            ("Closest to the perfect corner", curve.ClosestToCorner()),
            (
                $"Least cost: a missed child is worth {Figures.Plain(options.MissCost)} false alarms, {Figures.Plain(options.Prevalence * 100)} of 100 need help",
                curve.BestByCost(options.Prevalence, options.MissCost, 1)
            ),
            (
                $"Sensitivity at least {Figures.Number(options.Sensitivity)}",
                [curve.AtSensitivity(options.Sensitivity)]
            ),
        };
        return new EvidenceTable(
            $"criteria-{data.Outcome.Name}",
            $"{data.Outcome.Title}: the cut each criterion picks",
            [
                Figures.Column("criterion", "Criterion"),
                Figures.Column("positive", "Points out"),
                Figures.Column("sensitivity", "Sensitivity"),
                Figures.Column("specificity", "Specificity"),
                Figures.Column("youden", "Youden’s index"),
            ],
            [
                .. rows.Select(r =>
                {
                    var best = r.Points[0];
                    var others =
                        r.Points.Count > 1
                            ? $" (also {string.Join("; ", r.Points.Skip(1).Select(p => data.Words(p.Threshold)))})"
                            : "";
                    return (IReadOnlyList<EvidenceCell>)
                        [
                            EvidenceCell.Of(r.Criterion),
                            EvidenceCell.Of(data.Words(best.Threshold) + others),
                            EvidenceCell.Of(best.Sensitivity),
                            EvidenceCell.Of(best.Specificity),
                            EvidenceCell.Of(best.Youden),
                        ];
                }),
            ],
            "Each criterion answers another question. Which one serves is a clinical choice, made before looking at the figures."
        );
    }

    /// <summary>The curve as a picture, with the cuts of Youden and of the wanted sensitivity.</summary>
    public static RocPlot Plot(CutOffData data, RocCurve curve, StudyOptions options)
    {
        var points = curve
            .Points()
            .Select(p => new PlotPoint(1 - p.Specificity, p.Sensitivity))
            .Order(ByX)
            .ToList();
        var (best, wanted) = (curve.BestByYouden()[0], curve.AtSensitivity(options.Sensitivity));
        var marked = new List<(PlotPoint, string)> { Mark(best, "Youden: ") };
        if (wanted.Threshold != best.Threshold)
        {
            marked.Add(Mark(wanted, "sensitivity: "));
        }

        return new RocPlot(
            $"{data.Outcome.Title}: cases found and false alarms at every cut",
            $"Area {Figures.Number(curve.Area, 3)} over {data.Cases} cases and {data.Others} others. At {data.Words(best.Threshold)}: sensitivity {Figures.Number(best.Sensitivity)}, specificity {Figures.Number(best.Specificity)} (Youden). "
                + $"At {data.Words(wanted.Threshold)}: sensitivity {Figures.Number(wanted.Sensitivity)}, specificity {Figures.Number(wanted.Specificity)}. The dotted line is chance.",
            points,
            marked
        );

        (PlotPoint, string) Mark(RocPoint p, string name) =>
            (new PlotPoint(1 - p.Specificity, p.Sensitivity), name + data.Words(p.Threshold));
    }

    public static Interval? Area(RocCurve? curve, StudyOptions options) =>
        curve?.DeLongVariance is > 0 ? curve.LogitInterval(options.Confidence) : null;

    private static Comparer<PlotPoint> ByX { get; } =
        Comparer<PlotPoint>.Create((a, b) => a.X != b.X ? a.X.CompareTo(b.X) : a.Y.CompareTo(b.Y));

    private static IEnumerable<RocPoint> Inner(RocCurve curve) =>
        curve.Points().Where(p => double.IsFinite(p.Threshold));

    private static IReadOnlyList<EvidenceCell> CutRow(CutOffData data, RocPoint point, StudyOptions options)
    {
        var table = point.Table();
        return
        [
            EvidenceCell.Of(data.Words(point.Threshold)),
            EvidenceCell.Of(point.TruePositives),
            EvidenceCell.Of(point.FalseNegatives),
            EvidenceCell.Of(point.FalsePositives),
            EvidenceCell.Of(point.TrueNegatives),
            EvidenceCell.Of(point.Sensitivity),
            Figures.Between(table.Sensitivity(options.Confidence)?.Wilson),
            EvidenceCell.Of(point.Specificity),
            Figures.Between(table.Specificity(options.Confidence)?.Wilson),
        ];
    }

    private static IReadOnlyList<EvidenceCell> RatioRow(CutOffData data, RocPoint point, StudyOptions options)
    {
        var table = point.Table();
        var (plus, minus) = (
            table.LikelihoodPositive(options.Confidence),
            table.LikelihoodNegative(options.Confidence)
        );
        return
        [
            EvidenceCell.Of(data.Words(point.Threshold)),
            Figures.Between(table.Sensitivity(options.Confidence)?.ClopperPearson),
            Figures.Between(table.Specificity(options.Confidence)?.ClopperPearson),
            EvidenceCell.Of(
                PredictiveValues.Positive(point.Sensitivity, point.Specificity, options.Prevalence)
            ),
            EvidenceCell.Of(
                PredictiveValues.Negative(point.Sensitivity, point.Specificity, options.Prevalence)
            ),
            EvidenceCell.Of(plus.Estimate, 2, "no upper limit"),
            Figures.Between(plus.Interval),
            EvidenceCell.Of(minus.Estimate),
            Figures.Between(minus.Interval),
        ];
    }

    private static IReadOnlyList<EvidenceCell>? Paired(
        CutOffData first,
        CutOffData second,
        IReadOnlyList<StudySitting> children,
        StudyOptions options
    )
    {
        var both = children
            .Where(s => s.Reference.IsCase is not null)
            .Select(s =>
                (
                    Case: s.Reference.IsCase!.Value,
                    A: ScoreValues.Exact(s, first.Outcome),
                    B: ScoreValues.Exact(s, second.Outcome)
                )
            )
            .Where(s => s.A is not null && s.B is not null)
            .ToList();
        var result = Figures.OrNull(() =>
            DeLongTest.Paired(
                Curve(v => v.A!.Value, first.Direction),
                Curve(v => v.B!.Value, second.Direction),
                options.Confidence
            )
        );
        return result is null
            ? null
            :
            [
                EvidenceCell.Of(first.Outcome.Title),
                EvidenceCell.Of(second.Outcome.Title),
                EvidenceCell.Of(both.Count),
                EvidenceCell.Of(result.Difference, 3),
                Figures.Between(result.Interval, 3),
                EvidenceCell.Of(result.P, 3),
            ];

        RocCurve Curve(Func<(bool Case, double? A, double? B), double> value, CaseDirection direction) =>
            RocCurve.Of(
                [.. both.Where(b => b.Case).Select(value)],
                [.. both.Where(b => !b.Case).Select(value)],
                direction
            );
    }
}
