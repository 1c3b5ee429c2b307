using System.Globalization;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Agreement of two raters answer by answer: levels and options, then numbers.</summary>
internal sealed class AgreementItems(RaterPair pair, StudyOptions options)
{
    /// <summary>Kept answers with levels or options: percent, kappas, and the counts they rest on.</summary>
    public EvidenceTable Levels()
    {
        var rows = Keys(HasLevels).Select(k => LevelRow(k, Values(k))).ToList();
        return new EvidenceTable(
            "items-levels",
            "Answers with levels or options",
            [
                Figures.Column("item", "Answer"),
                Figures.Column("n", "Both tried"),
                Figures.Column("same", "Same"),
                Figures.Column("within-one", "Within one level"),
                Figures.Column("kappa", "Kappa"),
                Figures.Column("kappa-linear", "Kappa, linear weights"),
                Figures.Column("kappa-quadratic", "Kappa, quadratic weights"),
                Figures.IntervalColumn("interval", Figures.Percent(options.Confidence) + " interval"),
                .. options.KappaWeights.Count == 0
                    ? []
                    : new[]
                    {
                        Figures.Column("kappa-own", "Kappa, own weights"),
                        Figures.IntervalColumn(
                            "kappa-own-interval",
                            Figures.Percent(options.Confidence) + " interval"
                        ),
                    },
                Figures.Column("counts-first", $"{pair.First} used"),
                Figures.Column("counts-second", $"{pair.Second} used"),
            ],
            rows,
            "Shares from 0 to 1. Kappas use every level of the scale, also those nobody used. The interval is that of the "
                + "quadratic kappa for levels in order and of plain kappa for options. Beside each kappa "
                + "stand the counts of each level from the lowest, or of each option in the protocol’s order: where nearly all answers are the same, kappa is low or not defined although the raters agree. Where all answers agree, or one rater used one level only, no interval is given."
        );
    }

    /// <summary>Kept answers that are counts, times or lengths.</summary>
    public EvidenceTable Numbers() =>
        new(
            "items-numbers",
            "Counts, times and lengths",
            NumberColumns(options),
            [
                .. Keys(k => k.Response.IsNumber)
                    .Select(k =>
                        NumberRow(
                            Label(k),
                            k.Response.Unit.Symbol,
                            Numbers(k),
                            Figures.Decimals(k.Response.Step),
                            options
                        )
                    ),
            ],
            NumberNote(pair)
        );

    public static IReadOnlyList<EvidenceColumn> NumberColumns(StudyOptions options) =>
        [
            Figures.Column("item", "Value"),
            Figures.Column("unit", "Unit"),
            Figures.Column("n", "Both known"),
            Figures.Column("icc", "ICC(2,1)"),
            Figures.IntervalColumn("icc-interval", Figures.Percent(options.Confidence) + " interval"),
            Figures.Column("bias", "Bias"),
            Figures.IntervalColumn("bias-interval", Figures.Percent(options.Confidence) + " interval"),
            Figures.IntervalColumn("limits", "Limits of agreement"),
            Figures.Column("sem", "Error of one record"),
        ];

    public static string NumberNote(RaterPair pair) =>
        $"ICC(2,1): two-way random, absolute agreement, one rater. Bias is {pair.Second} minus {pair.First}. About 95 of 100 differences lie "
        + "within the limits of agreement. The error of one record counts differences between raters as error.";

    public static IReadOnlyList<EvidenceCell> NumberRow(
        string label,
        string unit,
        IReadOnlyList<(double First, double Second)> values,
        int decimals,
        StudyOptions options
    )
    {
        var (first, second) = (values.Select(v => v.First).ToList(), values.Select(v => v.Second).ToList());
        var matrix = values.Select(v => new[] { v.First, v.Second }).ToList();
        var icc = Figures.OrNull(() =>
            IntraclassCorrelation.Of(RatingMatrix.FromRows(matrix), options.Confidence)
        );
        var limits = Figures.OrNull(() => BlandAltman.Limits(second, first, null, options.Confidence));
        var places = decimals + 1;
        return
        [
            EvidenceCell.Of(label),
            EvidenceCell.Of(unit),
            EvidenceCell.Of(values.Count),
            EvidenceCell.Of(icc?["ICC(2,1)"].Icc),
            Figures.Between(icc?["ICC(2,1)"].Interval),
            EvidenceCell.Of(limits?.Bias, places),
            Figures.Between(limits?.BiasInterval, places),
            Figures.Between(limits?.Limits, places),
            EvidenceCell.Of(icc?.AgreementError, places),
        ];
    }

    internal static string Label(KeptLines kept)
    {
        var part = kept.Variant.Name.Length == 0 ? "" : $", {kept.Variant.Name}";
        var several = kept.Task.Responses.Count > 1 ? $" ({Names.ToWords(kept.Response.Name)})" : "";
        return kept.Task.Title + part + several;
    }

    /// <summary>How often each level was used: <c>0: 3, 1: 12, 2: 25</c>.</summary>
    internal static string Counts(IReadOnlyList<string> levels, IEnumerable<double> values)
    {
        var all = values.ToList();
        return string.Join(
            ", ",
            levels.Select(
                (l, i) => string.Create(CultureInfo.InvariantCulture, $"{l}: {all.Count(v => (int)v == i)}")
            )
        );
    }

    internal static IReadOnlyList<string> LevelNames(Response response) =>
        response.HasOptions
            ? [.. response.Options.Select(o => o.Name)]
            : [.. response.Scale!.Levels.Reverse().Select(l => l.Points.ToString())];

    private IReadOnlyList<EvidenceCell> LevelRow(KeptLines kept, List<(double First, double Second)> values)
    {
        var names = LevelNames(kept.Response);
        var levels = Enumerable.Range(0, names.Count).Select(i => (double)i).ToList();
        var table =
            values.Count == 0
                ? null
                : Figures.OrNull(() =>
                    AgreementTable.FromPairs(
                        [.. values.Select(v => (double?)v.First)],
                        [.. values.Select(v => (double?)v.Second)],
                        levels
                    )
                );
        var ordered = kept.Response.Kind == ResponseKind.Rating;
        var weight = ordered ? WeightKind.Quadratic : WeightKind.Identity;
        var chief = Kappa(table, weight);
        return
        [
            EvidenceCell.Of(Label(kept)),
            EvidenceCell.Of(values.Count),
            EvidenceCell.Of(table?.PercentAgreement),
            ordered ? EvidenceCell.Of(table?.AgreementWithin(1)) : EvidenceCell.Of("no order"),
            EvidenceCell.Of(Kappa(table, WeightKind.Identity)?.Kappa),
            ordered ? EvidenceCell.Of(Kappa(table, WeightKind.Linear)?.Kappa) : EvidenceCell.Of("no order"),
            ordered ? EvidenceCell.Of(chief?.Kappa) : EvidenceCell.Of("no order"),
            Figures.OfKappa(chief),
            .. Own(table, ordered),
            EvidenceCell.Of(AgreementOutcomes.InOrder(names.Count, values.Select(v => v.First))),
            EvidenceCell.Of(AgreementOutcomes.InOrder(names.Count, values.Select(v => v.Second))),
        ];
    }

    private KappaResult? Kappa(AgreementTable? table, WeightKind kind) =>
        table is null ? null : Figures.OrNull(() => CohenKappa.Of(table, kind, options.Confidence));

    /// <summary>Kappa by weights of the clinic's own, for ratings with as many levels.</summary>
    private EvidenceCell[] Own(AgreementTable? table, bool ordered)
    {
        if (options.KappaWeights.Count == 0)
        {
            return [];
        }

        if (!ordered || table?.Size != options.KappaWeights.Count)
        {
            var why = EvidenceCell.Of(ordered ? "other number of levels" : "no order");
            return [why, why];
        }

        var own = Figures.OrNull(() =>
            CohenKappa.Of(table, AgreementWeights.FromTable(options.KappaWeights), options.Confidence)
        );
        return [EvidenceCell.Of(own?.Kappa), Figures.OfKappa(own)];
    }

    internal static bool HasLevels(KeptLines kept) =>
        kept.Response.Kind == ResponseKind.Rating || kept.Response.HasOptions;

    internal IEnumerable<KeptLines> Keys(Func<KeptLines, bool> which) =>
        pair.Sittings[0].First.Scored.Protocol.Program.Kept.Where(which);

    internal List<(double First, double Second)> Values(KeptLines kept) => Pairs(kept, steps => steps);

    /// <summary>Both raters' values of a number, in its unit.</summary>
    internal List<(double First, double Second)> Numbers(KeptLines kept) =>
        Pairs(kept, steps => Figures.ToDouble(kept.Response.Step) * steps);

    private List<(double First, double Second)> Pairs(KeptLines kept, Func<long, double> figure) =>
        [
            .. pair
                .Sittings.Where(s => IsKnown(s.First, kept) && IsKnown(s.Second, kept))
                .Select(s =>
                    (figure(s.First.Scored.Lines[kept.LowLine]), figure(s.Second.Scored.Lines[kept.LowLine]))
                ),
        ];

    internal static bool IsKnown(StudySitting sitting, KeptLines kept) =>
        (State)sitting.Scored.Lines[kept.StateLine] == State.Known
        && sitting.Scored.Lines[kept.LowLine] == sitting.Scored.Lines[kept.HighLine];
}
