using System.Globalization;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Change;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Two sittings of one score: differences, error, practice, and the block that states them.</summary>
internal sealed class ReTestResult
{
    /// <summary>A re-test block states the error's 95 % interval, whatever the report's own level.</summary>
    private const double BlockConfidence = 0.95;

    private readonly List<double> _first;
    private readonly List<double> _second;
    private readonly StudyOptions _options;
    private readonly LimitsOfAgreement? _limits;
    private readonly int _places;

    private ReTestResult(Outcome outcome, List<(double First, double Second)> values, StudyOptions options)
    {
        (Outcome, _options) = (outcome, options);
        (_first, _second) = ([.. values.Select(v => v.First)], [.. values.Select(v => v.Second)]);
        _limits = Figures.OrNull(() => BlandAltman.Limits(_second, _first, null, options.Confidence));
        _places = Figures.Decimals(outcome.Step) + 1;
    }

    public Outcome Outcome { get; }

    /// <summary>Standard error of measurement of one sitting; null with fewer than two children.</summary>
    public double? Error => _limits is { } limits ? limits.StandardDeviation / Math.Sqrt(2) : null;

    public static ReTestResult Of(
        Outcome outcome,
        IReadOnlyList<(StudySitting First, StudySitting Second)> pairs,
        StudyOptions options
    ) =>
        new(
            outcome,
            [
                .. pairs
                    .Select(p =>
                        (
                            First: ScoreValues.Exact(p.First, outcome),
                            Second: ScoreValues.Exact(p.Second, outcome)
                        )
                    )
                    .Where(v => v.First is not null && v.Second is not null)
                    .Select(v => (v.First!.Value, v.Second!.Value)),
            ],
            options
        );

    public IReadOnlyList<EvidenceCell> ErrorRow()
    {
        var icc = Figures.OrNull(() =>
            IntraclassCorrelation.Of(
                RatingMatrix.FromRows([.. _first.Zip(_second).Select(v => new[] { v.First, v.Second })]),
                _options.Confidence
            )
        );
        return
        [
            EvidenceCell.Of(Outcome.Title),
            EvidenceCell.Of(Outcome.Unit.Symbol),
            EvidenceCell.Of(_first.Count),
            EvidenceCell.Of(Error, _places),
            Figures.Between(ErrorInterval(_options.Confidence), _places),
            EvidenceCell.Of(Smallest(0.975), _places),
            EvidenceCell.Of(Smallest(0.95), _places),
            EvidenceCell.Of(icc?["ICC(2,1)"].Icc),
            Figures.Between(icc?["ICC(2,1)"].Interval),
            EvidenceCell.Of(Beyond()),
        ];
    }

    public IReadOnlyList<EvidenceCell> PracticeRow() =>
        [
            EvidenceCell.Of(Outcome.Title),
            EvidenceCell.Of(_first.Count),
            EvidenceCell.Of(_first.Count == 0 ? null : Descriptive.Mean(_first), _places),
            EvidenceCell.Of(_second.Count == 0 ? null : Descriptive.Mean(_second), _places),
            EvidenceCell.Of(_limits?.Bias, _places),
            Figures.Between(_limits?.BiasInterval, _places),
            EvidenceCell.Of(
                Figures.NumberOrNull(() => _first.Count < 2 ? null : Descriptive.Correlation(_first, _second))
            ),
            Figures.Between(_limits?.Limits, _places),
            EvidenceCell.Of(ReliableThreshold(), _places),
            EvidenceCell.Of(OutsideRegression()),
        ];

    public DifferencePlot? Plot() =>
        _limits is not { } limits
            ? null
            : new DifferencePlot(
                $"{Outcome.Title}: second sitting minus first",
                $"{_first.Count} children. The mean change is {Figures.Number(limits.Bias, _places)}; about 95 of 100 changes lie between {Figures.Number(limits.Limits.Low, _places)} and {Figures.Number(limits.Limits.High, _places)}. A larger ring is more children.",
                "mean of both sittings",
                "second minus first",
                [
                    .. _first
                        .Zip(_second)
                        .Select(v => new PlotPoint((v.First + v.Second) / 2, v.Second - v.First)),
                ],
                limits.Bias,
                limits.Limits.Low,
                limits.Limits.High
            );

    /// <summary>The <c>re-test</c> block; null where the error is not above zero.</summary>
    public PasteBlock? Block(string weeks)
    {
        var places = Math.Max(2, _places);
        if (Error is not { } error || Math.Round(error, places) <= 0)
        {
            return null;
        }

        string Rounded(double value) =>
            Math.Round(value, places).ToString("0.######", CultureInfo.InvariantCulture);
        var why =
            _first.Count < Basis.SmallRow
                ? $"{_first.Count} children with both values; fewer than {Basis.SmallRow} say little."
                : "";
        var interval =
            ErrorInterval(BlockConfidence) is { } i && Math.Round(i.Low, places) > 0
                ? $", interval {Rounded(i.Low)} to {Rounded(i.High)}"
                : "";
        var text = string.Create(
            CultureInfo.InvariantCulture,
            $"re-test {Outcome.Name}\n  error {Rounded(error)} \"change study, same rater\", n {_first.Count}{interval}, after {weeks}\n"
        );
        return new PasteBlock(
            $"Re-test of {Outcome.Title}, in place of the one that stands there",
            text,
            why
        );
    }

    private Interval? ErrorInterval(double confidence) =>
        _limits is { StandardDeviation: > 0 } limits
            ? MeasurementError.OfTwoSittings(limits.StandardDeviation, limits.Count, confidence).Interval
            : null;

    /// <summary>Jacobson and Truax with the SD of the first sitting and the correlation of both.</summary>
    private double? ReliableThreshold()
    {
        if (_first.Count < 3 || Descriptive.Correlation(_first, _second) is not { } r || r is <= 0 or >= 1)
        {
            return null;
        }

        return Figures.NumberOrNull(() =>
            ReliableChange
                .JacobsonTruax(0, 0, Descriptive.StandardDeviation(_first), r, _options.Confidence)
                .Threshold
        );
    }

    /// <summary>Children whose second value lies outside what the first one predicts.</summary>
    private string OutsideRegression()
    {
        if (Figures.OrNull(() => LinearRegression.Of(_first, _second)) is not { } line)
        {
            return Figures.NotDefined;
        }

        var bands = _first.Select(x => line.Prediction(x, _options.Confidence)).ToList();
        return $"{_second.Where((y, i) => y > bands[i].High + 1e-9).Count()} above, {_second.Where((y, i) => y < bands[i].Low - 1e-9).Count()} below";
    }

    private double? Smallest(double p) =>
        Error is { } error ? Distributions.NormalQuantile(p) * Math.Sqrt(2) * error : null;

    private string Beyond()
    {
        if (_limits is not { } limits || Smallest(0.975) is not { } smallest)
        {
            return Figures.NotDefined;
        }

        var changes = _first.Zip(_second).Select(v => v.Second - v.First - limits.Bias).ToList();
        return $"{changes.Count(c => c > smallest + 1e-9)} up, {changes.Count(c => c < -smallest - 1e-9)} down";
    }
}
