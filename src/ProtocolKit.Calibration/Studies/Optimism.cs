using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// How much a cut chosen on these children flatters itself. Source: Efron B (1983) J Am Stat Assoc 78:316-331; Harrell
/// FE, Lee KL, Mark DB (1996) Stat Med 15:361-387: choose the cut on each resample, compare it there and on all children.
/// </summary>
internal static class Optimism
{
    public static EvidenceTable Of(CutOffData data, StudyOptions options)
    {
        var (cases, others) = Split(data);
        var apparent = Best(cases, others, data);
        var draws = new (double InSample, double Outside, double Threshold)?[options.Resamples];
        Parallel.For(0, options.Resamples, i => draws[i] = Draw(cases, others, data, options.Seed, (ulong)i));
        var kept = draws.OfType<(double InSample, double Outside, double Threshold)>().ToList();
        var optimism = kept.Count == 0 ? (double?)null : kept.Average(d => d.InSample - d.Outside);
        return new EvidenceTable(
            $"optimism-{data.Outcome.Name}",
            $"{data.Outcome.Title}: Youden’s cut on new children",
            [Figures.Column("figure", "Figure"), Figures.Column("value", "Value")],
            [
                [EvidenceCell.Of("Youden’s index on these children"), EvidenceCell.Of(apparent.Youden, 3)],
                [EvidenceCell.Of("Optimism (mean over resamples)"), EvidenceCell.Of(optimism, 3)],
                [
                    EvidenceCell.Of("Youden’s index to expect on new children"),
                    EvidenceCell.Of(apparent.Youden - optimism, 3),
                ],
                [EvidenceCell.Of("Cut picked most often"), EvidenceCell.Of(Often(kept, data))],
            ],
            $"{kept.Count} resamples of cases and of others, seed {options.Seed}; {SeededGenerator.Name}."
        );
    }

    private static string Often(
        List<(double InSample, double Outside, double Threshold)> kept,
        CutOffData data
    )
    {
        var most = kept.GroupBy(k => data.Words(k.Threshold))
            .OrderByDescending(g => g.Count())
            .ThenBy(g => g.Key, StringComparer.Ordinal)
            .FirstOrDefault();
        return most is null
            ? Figures.NotDefined
            : $"{most.Key}, in {Figures.Number(100.0 * most.Count() / kept.Count, 0)} of 100 resamples";
    }

    private static (double InSample, double Outside, double Threshold)? Draw(
        double[] cases,
        double[] others,
        CutOffData data,
        ulong seed,
        ulong stream
    )
    {
        var chance = new SeededGenerator(seed, stream);
        var (some, rest) = (new double[cases.Length], new double[others.Length]);
        for (var i = 0; i < some.Length; i++)
        {
            some[i] = cases[chance.NextBelow(cases.Length)];
        }

        for (var i = 0; i < rest.Length; i++)
        {
            rest[i] = others[chance.NextBelow(others.Length)];
        }

        var best = Best(some, rest, data);
        return (best.Youden, Youden(cases, others, best.Threshold, data.Direction), best.Threshold);
    }

    private static RocPoint Best(double[] cases, double[] others, CutOffData data) =>
        RocCurve.Of(cases, others, data.Direction).BestByYouden()[0];

    private static double Youden(double[] cases, double[] others, double threshold, CaseDirection direction)
    {
        return Share(cases) - Share(others);

        double Share(double[] values) =>
            values.Count(v => direction == CaseDirection.Lower ? v < threshold : v > threshold)
            / (double)values.Length;
    }

    private static (double[] Cases, double[] Others) Split(CutOffData data) =>
        (
            [.. data.Judged.Where(c => c.IsCase).Select(c => c.Value)],
            [.. data.Judged.Where(c => !c.IsCase).Select(c => c.Value)]
        );
}
