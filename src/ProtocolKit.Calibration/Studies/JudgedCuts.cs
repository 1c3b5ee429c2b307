using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.CutOffs;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Cuts from judges who have not looked at the curve: Angoff and Hofstee. Nothing where nobody was asked.</summary>
internal static class JudgedCuts
{
    public static EvidenceTable? Of(CutOffData data, StudyData study)
    {
        var rows = new List<IReadOnlyList<EvidenceCell>>();
        Angoff(rows, [.. study.Expected.Where(e => e.Score == data.Outcome.Name)]);
        Hofstee(rows, data, [.. study.Limits.Where(l => l.Score == data.Outcome.Name)]);
        return rows.Count == 0
            ? null
            : new EvidenceTable(
                $"judges-{data.Outcome.Name}",
                $"{data.Outcome.Title}: cuts from judges",
                [
                    Figures.Column("method", "Method"),
                    Figures.Column("cut", "Cut"),
                    Figures.Column("error", "Error"),
                    Figures.Column("rests-on", "Rests on"),
                ],
                rows,
                "Values below the cut are pointed out. Angoff’s error is for other judges over the same items."
            );
    }

    private static void Angoff(List<IReadOnlyList<EvidenceCell>> rows, List<ExpectedPoints> expected)
    {
        if (expected.Count == 0)
        {
            return;
        }

        var items = expected.Select(e => e.Item).Distinct().ToList();
        var judges = expected.GroupBy(e => e.Judge).OrderBy(g => g.Key, StringComparer.Ordinal).ToList();
        var matrix = judges
            .Select(j =>
                (IReadOnlyList<double?>)
                    [
                        .. items.Select(i =>
                            j.FirstOrDefault(e => e.Item == i) is { } e
                                ? Figures.ToDouble(e.Points)
                                : (double?)null
                        ),
                    ]
            )
            .ToList();
        var result = Figures.OrNull(() => CutOffs.Angoff.Of(RatingMatrix.FromRows(matrix)));
        var on =
            $"{Figures.Count(judges.Count, "judge", "judges")}, {Figures.Count(items.Count, "item", "items")}";
        rows.Add([
            EvidenceCell.Of("Angoff: mean of the judges’ sums"),
            EvidenceCell.Of(result?.Mean),
            EvidenceCell.Of(result?.Error),
            EvidenceCell.Of(on),
        ]);
        rows.Add([
            EvidenceCell.Of("Angoff: median of the judges’ sums"),
            EvidenceCell.Of(result?.Median),
            EvidenceCell.Of(""),
            EvidenceCell.Of(on),
        ]);
    }

    private static void Hofstee(
        List<IReadOnlyList<EvidenceCell>> rows,
        CutOffData data,
        List<AcceptableLimits> limits
    )
    {
        if (limits.Count == 0 || !data.LowIsWorse)
        {
            return;
        }

        var totals = data.Judged.Select(c => c.Value).ToList();
        var result = Figures.OrNull(() =>
            CutOffs.Hofstee.Of(
                totals,
                (int)
                    Math.Round(
                        limits.Average(l => Figures.ToDouble(l.LeastCut)),
                        MidpointRounding.AwayFromZero
                    ),
                (int)
                    Math.Round(
                        limits.Average(l => Figures.ToDouble(l.MostCut)),
                        MidpointRounding.AwayFromZero
                    ),
                100 * limits.Average(l => Figures.ToDouble(l.LeastShare)),
                100 * limits.Average(l => Figures.ToDouble(l.MostShare))
            )
        );
        rows.Add([
            EvidenceCell.Of("Hofstee: where the judges’ limits meet the children"),
            EvidenceCell.Of(result?.Cut, 2, result?.Reason ?? Figures.NotDefined),
            EvidenceCell.Of(""),
            EvidenceCell.Of(
                $"{Figures.Count(limits.Count, "judge", "judges")}, {Figures.Count(totals.Count, "child", "children")}"
            ),
        ]);
    }
}
