using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Calibration.Resampling;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// How much a cut chosen on these children flatters itself. Source: Efron B (1983) J Am Stat Assoc 78:316-331; Harrell
/// FE, Lee KL, Mark DB (1996) Stat Med 15:361-387: choose the cut on each resample, compare it there and on all children.
/// </summary>
internal static class Optimism
{
    public static EvidenceTable Of(
        CutOffData data,
        RocCurve curve,
        StudyOptions options,
        IProgress<int>? progress
    )
    {
        double[] cases = [.. data.Judged.Where(c => c.IsCase).Select(c => c.Value)];
        double[] others = [.. data.Judged.Where(c => !c.IsCase).Select(c => c.Value)];
        var draws = RocBootstrap.Of(
            cases,
            others,
            options.Resamples,
            options.Seed,
            data.Direction,
            options.Threads,
            progress
        );
        var optimism = draws.Youden.Zip(draws.Thresholds).Average(d => d.First - Youden(d.Second));
        var areas = draws.Areas.Order().ToList();
        var tail = (1 - options.Confidence) / 2;
        var apparent = curve.BestByYouden()[0].Youden;
        return new EvidenceTable(
            $"optimism-{data.Outcome.Name}",
            $"{data.Outcome.Title}: Youden’s cut on new children",
            [Figures.Column("figure", "Figure"), Figures.Column("value", "Value")],
            [
                [EvidenceCell.Of("Youden’s index on these children"), EvidenceCell.Of(apparent, 3)],
                [EvidenceCell.Of("Optimism (mean over resamples)"), EvidenceCell.Of(optimism, 3)],
                [
                    EvidenceCell.Of("Youden’s index to expect on new children"),
                    EvidenceCell.Of(apparent - optimism, 3),
                ],
                [EvidenceCell.Of("Cut picked most often"), EvidenceCell.Of(Often(draws.Thresholds, data))],
                [
                    EvidenceCell.Of(
                        $"Area, lower end of the {Figures.Percent(options.Confidence)} resampling interval"
                    ),
                    EvidenceCell.Of(Quantile(areas, tail), 3),
                ],
                [EvidenceCell.Of("Area, upper end"), EvidenceCell.Of(Quantile(areas, 1 - tail), 3)],
            ],
            $"{options.Resamples} resamples within cases and within others, seed {options.Seed}; {SeededGenerator.Name}."
        );

        double Youden(double threshold) =>
            Share(cases, threshold, data.Direction) - Share(others, threshold, data.Direction);
    }

    private static double Quantile(List<double> sorted, double p) =>
        Norms.SampleQuantiles.OfSorted(sorted, p, 6);

    private static string Often(double[] thresholds, CutOffData data)
    {
        var most = thresholds
            .GroupBy(t => data.Words(t))
            .OrderByDescending(g => g.Count())
            .ThenBy(g => g.Key, StringComparer.Ordinal)
            .First();
        return $"{most.Key}, in {Figures.Number(100.0 * most.Count() / thresholds.Length, 0)} of 100 resamples";
    }

    private static double Share(double[] values, double threshold, CaseDirection direction) =>
        values.Count(v => direction == CaseDirection.Lower ? v < threshold : v > threshold)
        / (double)values.Length;
}
