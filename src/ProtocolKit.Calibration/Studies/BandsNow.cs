using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>What the protocol's own cut-offs, as they stand, do with these children.</summary>
internal static class BandsNow
{
    public static EvidenceTable Table(
        Protocol protocol,
        IReadOnlyList<StudySitting> judged,
        StudyOptions options
    )
    {
        var level = Figures.Percent(options.Confidence);
        return new EvidenceTable(
            "bands-now",
            "The protocol’s cut-offs as they stand",
            [
                Figures.Column("score", "Score"),
                Figures.Column("cases", "Cases by band"),
                Figures.Column("others", "Others by band"),
                Figures.Column("sensitivity", "Cases in the worst band"),
                Figures.IntervalColumn("sensitivity-wilson", $"{level} (Wilson)"),
                Figures.Column("specificity", "Others above it"),
                Figures.IntervalColumn("specificity-wilson", $"{level} (Wilson)"),
                Figures.Column("basis", "Basis"),
            ],
            [.. protocol.CutOffs.Where(t => !t.ShortForm).Select(t => Row(t, judged, options))],
            "Children by band from the worst to the best, each by the row of its age; children whose value is left open count nowhere. "
                + "Sensitivity and specificity are those of the worst band."
        );
    }

    private static IReadOnlyList<EvidenceCell> Row(
        CutOffTable table,
        IReadOnlyList<StudySitting> judged,
        StudyOptions options
    )
    {
        var (cases, others) = (Counts(true), Counts(false));
        var square = new DiagnosticTable(cases[0], others[0], cases.Skip(1).Sum(), others.Skip(1).Sum());
        var (sensitivity, specificity) = (
            square.Sensitivity(options.Confidence),
            square.Specificity(options.Confidence)
        );
        return
        [
            EvidenceCell.Of(table.Outcome.Title),
            EvidenceCell.Of(string.Join(", ", cases)),
            EvidenceCell.Of(string.Join(", ", others)),
            EvidenceCell.Of(sensitivity?.Estimate),
            Figures.Between(sensitivity?.Wilson),
            EvidenceCell.Of(specificity?.Estimate),
            Figures.Between(specificity?.Wilson),
            EvidenceCell.Of(table.Basis.IsProvisional ? "provisional" : "pilot"),
        ];

        int[] Counts(bool isCase) =>
            [
                .. table.Bands.Select(band =>
                    judged.Count(s =>
                        s.Reference.IsCase == isCase
                        && s.Scored.Bands.FirstOrDefault(b => ReferenceEquals(b.Table, table))?.Band?.Name
                            == band.Name
                    )
                ),
            ];
    }
}
