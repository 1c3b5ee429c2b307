using ProtocolKit.Calibration.Norms;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Percentiles of one score in one group of children.</summary>
internal sealed class NormTables
{
    private static readonly double[] Percentiles = [5, 10, 25, 50, 75, 90];
    private readonly Outcome _outcome;
    private readonly string _label;
    private readonly StudyOptions _options;
    private readonly List<(Age Age, double Value)> _values;
    private readonly List<(AgeRange Ages, List<double> Values)> _rows;
    private readonly int _places;

    public NormTables(
        Protocol protocol,
        Outcome outcome,
        string label,
        IReadOnlyList<StudySitting> children,
        StudyOptions options
    )
    {
        (_outcome, _label, _options) = (outcome, label, options);
        _places = Figures.Decimals(outcome.Step) + 1;
        _values =
        [
            .. children
                .Select(c => (c.Scored.Age, Value: ScoreValues.Exact(c, outcome)))
                .Where(c => c.Value is not null)
                .Select(c => (c.Age, c.Value!.Value)),
        ];
        _rows =
        [
            .. Years(protocol)
                .Select(r => (r, _values.Where(v => r.Contains(v.Age)).Select(v => v.Value).ToList())),
        ];
    }

    private string Title => _outcome.Title + (_label.Length == 0 ? "" : $", {_label}");

    private string Suffix => _outcome.Name + (_label.Length == 0 ? "" : "-" + _label.Replace(' ', '-'));

    public EvidenceSection Section()
    {
        var smooth = Smooth();
        return new EvidenceSection(
            Title,
            _values.Count == 0 ? ["No child of this group has a known value."] : [],
            _values.Count == 0
                ? []
                : [Raw(), Intervals(), Ranks(), .. smooth is null ? [] : new[] { Smoothed(smooth) }],
            smooth is null ? [] : [Curves(smooth)]
        );
    }

    private EvidenceTable Raw() =>
        new(
            $"percentiles-{Suffix}",
            $"{Title}: percentiles by age, raw",
            [
                Figures.Column("ages", "Ages"),
                Figures.Column("n", "Children"),
                Figures.Column("mean", "Mean"),
                Figures.Column("sd", "SD"),
                .. Percentiles.Select(p => Figures.Column($"p{p}", $"P{p}")),
                Figures.Column("l", "L"),
                Figures.Column("m", "M"),
                Figures.Column("s", "S"),
                Figures.Column("small", "Small"),
            ],
            [.. _rows.Where(r => r.Values.Count > 0).Select(RawRow)],
            "P5: the value below which 5 of 100 lie (Hyndman and Fan’s type 6). L, M and S of Cole and Green (1992) by maximum likelihood, from 20 children and values above 0 on; "
                + $"rows of fewer than {Basis.SmallRow} are small and stay provisional."
        );

    private IReadOnlyList<EvidenceCell> RawRow((AgeRange Ages, List<double> Values) row)
    {
        var lms = LmsFit.Of(row.Values);
        return
        [
            EvidenceCell.Of(row.Ages.ToString()),
            EvidenceCell.Of(row.Values.Count),
            EvidenceCell.Of(Descriptive.Mean(row.Values), _places),
            EvidenceCell.Of(row.Values.Count < 2 ? null : Descriptive.StandardDeviation(row.Values), _places),
            .. Percentiles.Select(p => EvidenceCell.Of(SampleQuantiles.Of(row.Values, p / 100, 6), _places)),
            EvidenceCell.Of(lms?.L, 2, "–"),
            EvidenceCell.Of(lms?.M, _places, "–"),
            EvidenceCell.Of(lms?.S, 3, "–"),
            EvidenceCell.Of(row.Values.Count < Basis.SmallRow ? "yes" : "no"),
        ];
    }

    /// <summary>Distribution-free limits: order statistics between which the percentile lies with the wanted confidence.</summary>
    private EvidenceTable Intervals() =>
        new(
            $"intervals-{Suffix}",
            $"{Title}: {Figures.Percent(_options.Confidence)} intervals of the percentiles",
            [
                Figures.Column("ages", "Ages"),
                Figures.Column("n", "Children"),
                .. Percentiles.Select(p => Figures.IntervalColumn($"p{p}", $"P{p}")),
            ],
            [
                .. _rows
                    .Where(r => r.Values.Count > 0)
                    .Select(r =>
                        (IReadOnlyList<EvidenceCell>)
                            [
                                EvidenceCell.Of(r.Ages.ToString()),
                                EvidenceCell.Of(r.Values.Count),
                                .. Percentiles.Select(p => OrderLimits(r.Values, p / 100)),
                            ]
                    ),
            ],
            "From the binomial distribution of how many children lie below. “Or more”, “or less”: so few children can’t say where the other end lies."
        );

    private EvidenceCell OrderLimits(List<double> values, double p)
    {
        var (low, high) = PercentileLimits.Of(values, p, _options.Confidence);
        return EvidenceCell.Between(low, high, Math.Max(0, _places - 1));
    }

    private EvidenceTable Ranks()
    {
        var levels = _values.Select(v => v.Value).Distinct().Order().ToList();
        var shown =
            levels.Count <= 25
                ? levels
                : [.. Enumerable.Range(0, 25).Select(i => levels[i * (levels.Count - 1) / 24]).Distinct()];
        var rows = _rows.Where(r => r.Values.Count > 0).ToList();
        return new EvidenceTable(
            $"ranks-{Suffix}",
            $"{Title}: percentile of a value (mid-rank)",
            [
                Figures.Column("value", "Value"),
                .. rows.Select(r => Figures.Column($"ages-{r.Ages.From}", r.Ages.ToString())),
            ],
            [
                .. shown.Select(level =>
                    (IReadOnlyList<EvidenceCell>)
                        [
                            EvidenceCell.Of(level, Math.Max(0, _places - 1)),
                            .. rows.Select(r =>
                                EvidenceCell.Of(PercentileRank.Of(r.Values, level).Middle, 0)
                            ),
                        ]
                ),
            ],
            levels.Count > shown.Count ? "Of the values that occur, every few are shown." : ""
        );
    }

    private PolynomialNorms? Smooth()
    {
        var ages = _values.Select(v => (double)v.Age.Months / 12).ToList();
        var values = _values.Select(v => v.Value).ToList();
        var line = Figures.OrNull(() => PolynomialNorms.Of(ages, values, 1));
        var curve = Figures.OrNull(() => PolynomialNorms.Of(ages, values, 2));
        return curve is not null && line is not null && curve.Aic < line.Aic - 2 ? curve : line;
    }

    private EvidenceTable Smoothed(PolynomialNorms smooth) =>
        new(
            $"smoothed-{Suffix}",
            $"{Title}: smoothed over age",
            [
                Figures.Column("age", "Age"),
                Figures.Column("mean", "Mean"),
                Figures.Column("sd", "SD"),
                .. Percentiles.Select(p => Figures.Column($"p{p}", $"P{p}")),
            ],
            [
                .. _rows
                    .Where(r => r.Values.Count > 0)
                    .Select(r => Middle(r.Ages))
                    .Select(age =>
                        (IReadOnlyList<EvidenceCell>)
                            [
                                EvidenceCell.Of(new Age((int)Math.Round(age * 12)).ToString()),
                                EvidenceCell.Of(smooth.At(age), _places),
                                EvidenceCell.Of(smooth.Sigma, _places),
                                .. Percentiles.Select(p => EvidenceCell.Of(At(smooth, age, p), _places)),
                            ]
                    ),
            ],
            $"A {(smooth.Degree == 1 ? "straight line" : "curve of second degree")} over age with the same spread everywhere, on {smooth.Count} children; R² {Figures.Number(smooth.RSquare)}. "
                + "Percentiles take values about it as normal and are cut to the score’s range; near its ends trust the raw ones more."
        );

    private CurvesPlot Curves(PolynomialNorms smooth)
    {
        var (from, to) = (_values.Min(v => v.Age.Months) / 12.0, _values.Max(v => v.Age.Months) / 12.0);
        double[] shown = [5, 25, 50, 75, 95];
        var steps = Enumerable.Range(0, 21).Select(i => from + (i * (to - from) / 20)).ToList();
        return new CurvesPlot(
            $"{Title}: percentile curves",
            $"{_values.Count} children. The middle one of a hundred reaches {Figures.Number(At(smooth, from, 50), 1)} at {new Age((int)(from * 12))} and {Figures.Number(At(smooth, to, 50), 1)} at {new Age((int)(to * 12))}; "
                + $"the fifth {Figures.Number(At(smooth, from, 5), 1)} and {Figures.Number(At(smooth, to, 5), 1)}. Dots are children.",
            "age in years",
            _outcome.Unit.IsPure ? _outcome.Title : $"{_outcome.Title} ({_outcome.Unit.Symbol})",
            [
                .. shown.Select(p =>
                    (
                        $"P{p}",
                        (IReadOnlyList<PlotPoint>)[.. steps.Select(a => new PlotPoint(a, At(smooth, a, p)))]
                    )
                ),
            ],
            [.. _values.Select(v => new PlotPoint(v.Age.Months / 12.0, v.Value))]
        );
    }

    private double At(PolynomialNorms smooth, double age, double percentile) =>
        Math.Clamp(
            smooth.At(age) + (StandardScores.FromPercentile(percentile) * smooth.Sigma),
            Figures.ToDouble(_outcome.Low),
            Figures.ToDouble(_outcome.High)
        );

    private static double Middle(AgeRange ages) => (ages.From.Months + ages.To.Months + 1) / 24.0;

    /// <summary>Years of the protocol's ages, the last perhaps shorter.</summary>
    private static IEnumerable<AgeRange> Years(Protocol protocol)
    {
        for (var month = protocol.Ages.From.Months; month <= protocol.Ages.To.Months; month += 12)
        {
            yield return new AgeRange(new Age(month), new Age(Math.Min(month + 11, protocol.Ages.To.Months)));
        }
    }
}
