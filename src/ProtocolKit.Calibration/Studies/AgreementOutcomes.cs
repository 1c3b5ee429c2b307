using System.Globalization;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Agreement on what records come to: measures and scores, bands, the headline action.</summary>
internal sealed class AgreementOutcomes(RaterPair pair, StudyOptions options)
{
    private readonly Protocol _protocol = pair.Sittings[0].First.Scored.Protocol;

    public EvidenceTable Totals() =>
        new(
            "totals",
            "Measures and scores",
            AgreementItems.NumberColumns(options),
            [
                .. _protocol
                    .Outcomes.Where(ScoreValues.IsTotal)
                    .Select(o =>
                        AgreementItems.NumberRow(
                            o.Title,
                            o.Unit.Symbol,
                            Values(o),
                            Figures.Decimals(o.Step),
                            options
                        )
                    ),
            ],
            AgreementItems.NumberNote(pair) + " Values that untried answers leave open are not compared."
        );

    /// <summary>Both raters' values of every measure and score that is a total.</summary>
    public IEnumerable<(string Title, IReadOnlyList<(double First, double Second)> Values)> TotalValues() =>
        _protocol
            .Outcomes.Where(ScoreValues.IsTotal)
            .Select(o => (o.Title, (IReadOnlyList<(double, double)>)Values(o)));

    /// <summary>All six forms of the intraclass correlation, for the scores asked about.</summary>
    public EvidenceTable Forms()
    {
        var rows = new List<IReadOnlyList<EvidenceCell>>();
        foreach (var outcome in ScoreValues.Chosen(_protocol, options))
        {
            var matrix = Values(outcome).Select(v => new[] { v.First, v.Second }).ToList();
            var icc = Figures.OrNull(() =>
                IntraclassCorrelation.Of(RatingMatrix.FromRows(matrix), options.Confidence)
            );
            rows.AddRange(
                (icc?.Forms ?? []).Select(f =>
                    (IReadOnlyList<EvidenceCell>)
                        [
                            EvidenceCell.Of(outcome.Title),
                            EvidenceCell.Of(f.Name),
                            EvidenceCell.Of(f.McGrawWong),
                            EvidenceCell.Of(f.Icc),
                            Figures.Between(f.Interval),
                        ]
                )
            );
        }

        return new EvidenceTable(
            "icc-forms",
            "Intraclass correlation, six forms",
            [
                Figures.Column("score", "Score"),
                Figures.Column("form", "Form"),
                Figures.Column("other-name", "Also called"),
                Figures.Column("icc", "ICC"),
                Figures.IntervalColumn("interval", Figures.Percent(options.Confidence) + " interval"),
            ],
            rows,
            "Report ICC(2,1) when other examiners like these will rate alone; forms ending in k are for the mean of both raters."
        );
    }

    public IReadOnlyList<EvidencePlot> Plots() =>
        [.. ScoreValues.Chosen(_protocol, options).Take(6).Select(Difference).OfType<EvidencePlot>()];

    public EvidenceTable Bands()
    {
        var rows = _protocol.CutOffs.Where(t => !t.ShortForm).Select(BandRow).ToList();
        return new EvidenceTable(
            "bands",
            "Bands",
            [
                Figures.Column("score", "Score"),
                Figures.Column("n", "Both banded"),
                Figures.Column("open", "Undecided by one or both"),
                Figures.Column("same", "Same band"),
                Figures.Column("kappa", "Kappa, linear weights"),
                Figures.IntervalColumn("interval", Figures.Percent(options.Confidence) + " interval"),
                Figures.Column("counts-first", $"{pair.First} used"),
                Figures.Column("counts-second", $"{pair.Second} used"),
            ],
            rows,
            "Used: how often each band, from the worst to the best, also those nobody used. The cut-offs are those of the protocol as it stands; where their basis is provisional, so are these bands."
        );
    }

    public (EvidenceTable Table, EvidencePlot Plot) Headlines()
    {
        var names = _protocol.Actions.Select(a => a.Title).Append("none").ToList();
        var values = pair
            .Sittings.Select(s => ((double)Index(s.First), (double)Index(s.Second)))
            .ToList<(double First, double Second)>();
        var table = Table(values, names.Count);
        var kappa = Kappa(table, WeightKind.Identity);
        var row = new[]
        {
            EvidenceCell.Of(values.Count),
            EvidenceCell.Of(table?.PercentAgreement),
            EvidenceCell.Of(kappa?.Kappa),
            Figures.OfKappa(kappa),
            EvidenceCell.Of(AgreementItems.Counts(names, values.Select(v => v.First))),
            EvidenceCell.Of(AgreementItems.Counts(names, values.Select(v => v.Second))),
        };
        return (
            new EvidenceTable(
                "headline",
                "The action that comes first",
                [
                    Figures.Column("n", "Sittings"),
                    Figures.Column("same", "Same action"),
                    Figures.Column("kappa", "Kappa"),
                    Figures.IntervalColumn("interval", Figures.Percent(options.Confidence) + " interval"),
                    Figures.Column("counts-first", $"{pair.First} used"),
                    Figures.Column("counts-second", $"{pair.Second} used"),
                ],
                [row],
                ""
            ),
            Grid(names, values)
        );

        int Index(StudySitting sitting) =>
            sitting.Scored.Headline is { } headline
                ? _protocol.Actions.ToList().FindIndex(a => a.Name == headline.Name)
                : names.Count - 1;
    }

    private GridPlot Grid(List<string> names, List<(double First, double Second)> values)
    {
        var counts = names
            .Select(
                (_, i) =>
                    (IReadOnlyList<int>)
                        [
                            .. names.Select(
                                (_, j) => values.Count(v => (int)v.First == i && (int)v.Second == j)
                            ),
                        ]
            )
            .ToList();
        var same = values.Count(v => v.First == v.Second);
        var apart = names
            .SelectMany((a, i) => names.Select((b, j) => (a, b, i, j)))
            .Where(p => p.i != p.j && counts[p.i][p.j] > 0)
            .Select(p =>
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{pair.First} {p.a} and {pair.Second} {p.b} {counts[p.i][p.j]}"
                )
            );
        return new GridPlot(
            "Which action each rater’s record leads to",
            $"The same action in {same} of {values.Count} sittings."
                + (same == values.Count ? "" : $" Different: {string.Join("; ", apart)}."),
            pair.First,
            pair.Second,
            names,
            counts
        );
    }

    private DifferencePlot? Difference(Outcome outcome)
    {
        var values = Values(outcome);
        var limits = Figures.OrNull(() =>
            BlandAltman.Limits(
                [.. values.Select(v => v.Second)],
                [.. values.Select(v => v.First)],
                null,
                options.Confidence
            )
        );
        if (limits is null)
        {
            return null;
        }

        var outside = values.Count(v =>
            v.Second - v.First < limits.Limits.Low || v.Second - v.First > limits.Limits.High
        );
        return new DifferencePlot(
            $"{outcome.Title}: differences between the raters",
            $"{values.Count} sittings. {pair.Second} is on average {Signed(limits.Bias)} than {pair.First}; about 95 of 100 differences lie between "
                + $"{Figures.Number(limits.Limits.Low)} and {Figures.Number(limits.Limits.High)}; {outside} of these {values.Count} lie outside. A larger ring is more children.",
            "mean of both raters",
            $"{pair.Second} minus {pair.First}",
            [.. values.Select(v => new PlotPoint((v.First + v.Second) / 2, v.Second - v.First))],
            limits.Bias,
            limits.Limits.Low,
            limits.Limits.High
        );
    }

    private static string Signed(double bias) =>
        $"{Figures.Number(Math.Abs(bias))} {(bias < 0 ? "lower" : "higher")}";

    private IReadOnlyList<EvidenceCell> BandRow(CutOffTable cutOffs)
    {
        var names = cutOffs.Bands.Select(b => b.Text).ToList();
        var values = pair
            .Sittings.Select(s => (First: Band(s.First), Second: Band(s.Second)))
            .Where(v => v.First >= 0 && v.Second >= 0)
            .Select(v => ((double)v.First, (double)v.Second))
            .ToList<(double First, double Second)>();
        var table = Table(values, names.Count);
        var kappa = Kappa(table, WeightKind.Linear);
        return
        [
            EvidenceCell.Of(cutOffs.Outcome.Title),
            EvidenceCell.Of(values.Count),
            EvidenceCell.Of(pair.Sittings.Count - values.Count),
            EvidenceCell.Of(table?.PercentAgreement),
            EvidenceCell.Of(kappa?.Kappa),
            Figures.OfKappa(kappa),
            EvidenceCell.Of(InOrder(names.Count, values.Select(v => v.First))),
            EvidenceCell.Of(InOrder(names.Count, values.Select(v => v.Second))),
        ];

        int Band(StudySitting sitting)
        {
            var result = sitting.Scored.Bands.First(b => ReferenceEquals(b.Table, cutOffs));
            return result.Band is { } band ? cutOffs.Bands.ToList().FindIndex(b => b.Name == band.Name) : -1;
        }
    }

    /// <summary>How often each band was reached, from the worst: <c>3, 12, 25</c>.</summary>
    internal static string InOrder(int size, IEnumerable<double> values)
    {
        var all = values.ToList();
        return string.Join(", ", Enumerable.Range(0, size).Select(i => all.Count(v => (int)v == i)));
    }

    private KappaResult? Kappa(AgreementTable? table, WeightKind kind) =>
        table is null ? null : Figures.OrNull(() => CohenKappa.Of(table, kind, options.Confidence));

    private static AgreementTable? Table(List<(double First, double Second)> values, int size) =>
        values.Count == 0
            ? null
            : Figures.OrNull(() =>
                AgreementTable.FromPairs(
                    [.. values.Select(v => (double?)v.First)],
                    [.. values.Select(v => (double?)v.Second)],
                    [.. Enumerable.Range(0, size).Select(i => (double)i)]
                )
            );

    private List<(double First, double Second)> Values(Outcome outcome) =>
        [
            .. pair
                .Sittings.Select(s =>
                    (First: ScoreValues.Exact(s.First, outcome), Second: ScoreValues.Exact(s.Second, outcome))
                )
                .Where(v => v.First is not null && v.Second is not null)
                .Select(v => (v.First!.Value, v.Second!.Value)),
        ];
}
