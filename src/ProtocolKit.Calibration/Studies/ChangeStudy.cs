using System.Globalization;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// How much two sittings of the same child differ by themselves: error of measurement, smallest detectable change,
/// practice effect. First and second sittings by the same rater, so that differences between raters play no part.
/// </summary>
public static class ChangeStudy
{
    /// <exception cref="StudyRefusedException">Nobody was seen twice by the same rater.</exception>
    public static StudyReport Run(StudyData data, StudyOptions options)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        var pairs = Pairs(data);
        Refuse(data, pairs);
        var outcomes =
            options.Scores.Count > 0
                ? ScoreValues.Chosen(data.Protocol, options)
                : [.. data.Protocol.Outcomes.Where(ScoreValues.IsTotal)];
        var results = outcomes.Select(o => ReTestResult.Of(o, pairs, options)).ToList();
        var asked = ScoreValues
            .Chosen(data.Protocol, options)
            .Select(o => o.Name)
            .ToHashSet(StringComparer.Ordinal);
        var pasted = data
            .Protocol.ReTests.Select(r => r.Outcome.Name)
            .Concat(asked)
            .ToHashSet(StringComparer.Ordinal);
        var weeks = Weeks(pairs);
        return new StudyReport
        {
            Kind = "change",
            Title = "Change between sittings",
            Protocol = data.Protocol,
            Asked =
            [
                Figures.Fact(
                    "Question",
                    "How much do two sittings of the same child differ when nothing has changed?"
                ),
                Figures.Fact("Intervals", Figures.Percent(options.Confidence)),
            ],
            Data =
            [
                Figures.Fact("Source", data.Source),
                Figures.Fact("Children seen twice by the same rater", pairs.Count),
                Figures.Fact(
                    "Time between",
                    $"{weeks} (median {Figures.Number(Descriptive.Median([.. pairs.Select(p => Days(p) / 7.0)]), 1)} weeks)"
                ),
                Figures.Fact("Ages at the first sitting", StudyFacts.Ages(pairs.Select(p => p.First))),
            ],
            LeftOut =
            [
                .. StudyFacts.LeftOut(data),
                Figures.Fact(
                    "Records without a second sitting by the same rater",
                    data.Sittings.Count - (2 * pairs.Count)
                ),
            ],
            Sections =
            [
                new EvidenceSection(
                    "Error, change and practice",
                    [],
                    [ErrorTable(results, options), PracticeTable(results, options)],
                    []
                ),
                new EvidenceSection(
                    "Pictures",
                    [],
                    [],
                    [
                        .. results
                            .Where(r => asked.Contains(r.Outcome.Name))
                            .Take(6)
                            .Select(r => r.Plot())
                            .OfType<EvidencePlot>(),
                    ]
                ),
            ],
            Blocks =
            [
                .. results
                    .Where(r => pasted.Contains(r.Outcome.Name))
                    .Select(r => r.Block(weeks))
                    .OfType<PasteBlock>(),
            ],
            May =
            [
                "How large a change must be before it is more than two sittings differ by themselves.",
                "How much better children do at a second sitting without any help in between: growing older and having done it before, together.",
                $"This holds for sittings {weeks} apart, by the same rater.",
            ],
            MayNot =
            [
                "That a change beyond error is due to therapy. Children grow, learn the tasks, and have good days.",
                "That a change within error is no change: it may be real and too small for this screen to see.",
                "Anything about two sittings by different raters: their difference comes on top (see the agreement study).",
                .. pairs.Count < 30
                    ? new[] { $"Much from {pairs.Count} children: the error itself is known only roughly." }
                    : [],
            ],
        };
    }

    internal static int Days((StudySitting First, StudySitting Second) pair) =>
        pair.Second.Seen.DayNumber - pair.First.Seen.DayNumber;

    private static EvidenceTable ErrorTable(IReadOnlyList<ReTestResult> results, StudyOptions options) =>
        new(
            "error",
            "Error of one sitting, and the smallest change that counts",
            [
                Figures.Column("score", "Score"),
                Figures.Column("unit", "Unit"),
                Figures.Column("n", "Children"),
                Figures.Column("sem", "Error of one sitting"),
                Figures.IntervalColumn("sem-interval", Figures.Percent(options.Confidence) + " interval"),
                Figures.Column("change-95", "Smallest change, 95 %"),
                Figures.Column("change-90", "Smallest change, 90 %"),
                Figures.Column("icc", "ICC(2,1)"),
                Figures.IntervalColumn("icc-interval", Figures.Percent(options.Confidence) + " interval"),
                Figures.Column("changed", "Changed beyond it, of these"),
            ],
            [.. results.Select(r => r.ErrorRow())],
            "Error: the standard deviation of the differences divided by √2, practice taken out. Smallest change: 1.96 (or 1.645) × √2 × error, as in the "
                + "reliable change of Jacobson and Truax (1991). About 5 of 100 unchanged children lie beyond the first."
        );

    private static EvidenceTable PracticeTable(IReadOnlyList<ReTestResult> results, StudyOptions options) =>
        new(
            "practice",
            "Second sitting beside the first",
            [
                Figures.Column("score", "Score"),
                Figures.Column("n", "Children"),
                Figures.Column("first", "Mean, first"),
                Figures.Column("second", "Mean, second"),
                Figures.Column("practice", "Mean change"),
                Figures.IntervalColumn(
                    "practice-interval",
                    Figures.Percent(options.Confidence) + " interval"
                ),
                Figures.Column("correlation", "Correlation"),
                Figures.IntervalColumn("limits", "95 of 100 changes lie between"),
                Figures.Column("reliable-change", "Reliable change from SD and correlation"),
                Figures.Column("outside-regression", "Outside what the first sitting predicts"),
            ],
            [.. results.Select(r => r.PracticeRow())],
            "A mean change whose interval leaves out 0 is growth or practice: it is no error, and single changes are judged after taking it off."
        );

    /// <summary>Each child’s first and second sitting by the same rater.</summary>
    internal static List<(StudySitting First, StudySitting Second)> Pairs(StudyData data) =>
        [
            .. data
                .Sittings.Where(s => s.Number <= 2)
                .GroupBy(s => (s.Case, s.Rater))
                .Where(g => g.Any(s => s.Number == 1) && g.Any(s => s.Number == 2))
                .Select(g => (g.First(s => s.Number == 1), g.First(s => s.Number == 2))),
        ];

    private static string Weeks(List<(StudySitting First, StudySitting Second)> pairs)
    {
        var (least, most) = (pairs.Min(Days) / 7, (pairs.Max(Days) + 6) / 7);
        return string.Create(CultureInfo.InvariantCulture, $"{least} to {most} weeks");
    }

    private static void Refuse(StudyData data, List<(StudySitting First, StudySitting Second)> pairs)
    {
        if (pairs.Count >= 2)
        {
            return;
        }

        var twice = data.Sittings.Where(s => s.Number == 2).Select(s => s.Case).Distinct().Count();
        throw new StudyRefusedException(
            twice == 0
                ? $"None of these {data.Sittings.Select(s => s.Case).Distinct().Count()} children was seen twice, so nobody knows how much sittings differ by themselves. See some of them again after some weeks."
                : $"{Figures.Count(twice, "child was", "children were")} seen twice, but {(pairs.Count == 0 ? "none" : "only one")} by the same rater both times. Differences between raters would pass for change."
        );
    }
}
