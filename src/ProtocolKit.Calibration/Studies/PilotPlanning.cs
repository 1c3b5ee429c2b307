using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>How many children the next pilot needs for intervals of a wanted width.</summary>
internal static class PilotPlanning
{
    private static readonly double[] Widths = [0.05, 0.075, 0.1, 0.15];
    private static readonly double[] Sensitivities = [0.7, 0.8, 0.9, 0.95];
    private static readonly double[] AreaValues = [0.7, 0.8, 0.85, 0.9, 0.95];

    public static EvidenceSection Section(StudyOptions options) =>
        new(
            "How many children the next pilot needs",
            [
                "Find the sensitivity or the area you expect, and how near the interval’s ends may lie to it. The first figure is the number of cases; the second, how many children must be seen at the stated prevalence to meet that many.",
            ],
            [Sensitivity(options), Areas(options)],
            []
        );

    private static EvidenceTable Sensitivity(StudyOptions options) =>
        new(
            "planning",
            "Cases, and children, for an interval of a wanted half width",
            [Figures.Column("sensitivity", "Expected sensitivity"), .. WidthColumns()],
            [
                .. Sensitivities.Select(s =>
                    Row([EvidenceCell.Of(s)], w => PilotSize.Cases(s, w, options.Confidence), options)
                ),
            ],
            "The smallest number for which half the Wilson interval is no wider; the same holds for specificity with the children who are no cases."
        );

    private static EvidenceTable Areas(StudyOptions options)
    {
        var others = (1 - options.Prevalence) / options.Prevalence;
        return new EvidenceTable(
            "planning-area",
            "The same for the area under the curve",
            [Figures.Column("area", "Expected area"), Figures.Column("method", "Method"), .. WidthColumns()],
            [
                .. AreaValues.SelectMany(a =>
                    new[]
                    {
                        Row(
                            [EvidenceCell.Of(a), EvidenceCell.Of("Hanley and McNeil")],
                            w => PilotSize.CasesForArea(a, w, others, options.Confidence),
                            options
                        ),
                        Row(
                            [EvidenceCell.Of(a), EvidenceCell.Of("Obuchowski")],
                            w => PilotSize.CasesForAreaBinormal(a, w, others, options.Confidence),
                            options
                        ),
                    }
                ),
            ],
            "Children as they come: for each case as many others as the prevalence says. Hanley and McNeil’s error suits scores of many values, Obuchowski’s ratings in few steps; plan for the larger number."
        );
    }

    private static IEnumerable<EvidenceColumn> WidthColumns() =>
        Widths.SelectMany(w =>
            new[]
            {
                Figures.Column($"cases-{Figures.Number(w, 3)}", $"Cases for ± {Figures.Number(w, 3)}"),
                Figures.Column($"children-{Figures.Number(w, 3)}", "Children"),
            }
        );

    private static IReadOnlyList<EvidenceCell> Row(
        IReadOnlyList<EvidenceCell> heads,
        Func<double, int> casesFor,
        StudyOptions options
    ) =>
        [
            .. heads,
            .. Widths.SelectMany(w =>
            {
                var cases = casesFor(w);
                return new[]
                {
                    EvidenceCell.Of(cases),
                    EvidenceCell.Of((int)Math.Ceiling(cases / options.Prevalence)),
                };
            }),
        ];
}
