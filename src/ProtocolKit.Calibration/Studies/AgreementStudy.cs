using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// Do examiners who see the same sittings write the same? Item by item, totals, bands, actions, codes and help; for two
/// raters in full, for more of them with coefficients over all besides.
/// </summary>
public static class AgreementStudy
{
    /// <exception cref="StudyRefusedException">No two raters share sittings; the message says what is missing.</exception>
    public static StudyReport Run(StudyData data, StudyOptions options)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        var pairs = RaterPairs.Of(data);
        var sections = new List<EvidenceSection>();
        foreach (var pair in pairs.Pairs)
        {
            AddPair(sections, pair, options, pairs.Pairs.Count > 1);
        }

        if (new AgreementReadiness(data.Protocol, pairs, options).Section() is { } readiness)
        {
            sections.Add(readiness);
        }

        if (pairs.Raters.Count > 2)
        {
            sections.Add(AllRaters(data.Protocol, pairs, options));
        }

        var most = pairs.Pairs[0].Sittings.Count;
        return new StudyReport
        {
            Kind = "agreement",
            Title = "Agreement of examiners",
            Protocol = data.Protocol,
            Asked =
            [
                Figures.Fact("Question", "Do examiners who see the same sitting write the same record?"),
                Figures.Fact("Intervals", Figures.Percent(options.Confidence)),
            ],
            Data =
            [
                Figures.Fact("Source", data.Source),
                Figures.Fact("Records", data.Sittings.Count),
                Figures.Fact("Children", data.Sittings.Select(s => s.Case).Distinct().Count()),
                Figures.Fact("Sittings rated more than once", pairs.Sittings.Count),
                Figures.Fact("Raters", string.Join(", ", pairs.Raters)),
                .. pairs.Pairs.Select(p =>
                    Figures.Fact(
                        $"{p.First} and {p.Second}",
                        Figures.Count(p.Sittings.Count, "sitting", "sittings")
                    )
                ),
            ],
            LeftOut =
            [
                .. StudyFacts.LeftOut(data),
                Figures.Fact(
                    "Records of one rater alone",
                    $"{data.Sittings.Count - pairs.Sittings.Sum(s => s.Count)}: nothing to compare them with"
                ),
            ],
            Sections = sections,
            May =
            [
                $"How alike these raters are on children like these, as far as {Figures.Count(most, "shared sitting", "shared sittings")} can tell: read each interval, not the single figure.",
                "Where one rater is stricter than the other (bias), and at which answers training would help most.",
                "How large a difference between two records can be without any difference in the child: the limits of agreement.",
            ],
            MayNot =
            [
                "That other examiners agree as well: these raters stand for nobody but those trained like them.",
                "That the records are right. Two raters can agree and both be wrong.",
                "That a low kappa means poor agreement where nearly all answers are alike: read the counts beside it.",
                .. most < 30
                    ? new[]
                    {
                        "Much from so few sittings: with fewer than about 30, intervals are wide and their limits rough (common practice, no source).",
                    }
                    : [],
            ],
        };
    }

    private static void AddPair(
        List<EvidenceSection> sections,
        RaterPair pair,
        StudyOptions options,
        bool named
    )
    {
        var suffix = named ? $"-{pair.First}-{pair.Second}".ToLowerInvariant() : "";
        var title = named ? $" ({pair.First} and {pair.Second})" : "";
        var items = new AgreementItems(pair, options);
        var outcomes = new AgreementOutcomes(pair, options);
        var besides = new AgreementBesides(pair, options);
        var (headline, grid) = outcomes.Headlines();
        sections.Add(
            new EvidenceSection(
                "Actions and bands" + title,
                [],
                [Named(headline), Named(outcomes.Bands())],
                [grid]
            )
        );
        sections.Add(
            new EvidenceSection(
                "Measures and scores" + title,
                [],
                [Named(outcomes.Totals()), Named(outcomes.Forms())],
                outcomes.Plots()
            )
        );
        sections.Add(
            new EvidenceSection(
                "Answer by answer" + title,
                [],
                [Named(items.Levels()), Named(items.Numbers())],
                []
            )
        );
        sections.Add(
            new EvidenceSection(
                "Codes and help" + title,
                [],
                [Named(besides.Codes()), Named(besides.Help())],
                []
            )
        );

        EvidenceTable Named(EvidenceTable table) => table with { Name = table.Name + suffix };
    }

    /// <summary>More than two raters: coefficients that take any number of them and bear missing records.</summary>
    private static EvidenceSection AllRaters(Protocol protocol, RaterPairs pairs, StudyOptions options)
    {
        var rows = new List<IReadOnlyList<EvidenceCell>>();
        var level = Figures.Percent(options.Confidence) + " interval";
        foreach (var kept in protocol.Program.Kept.Where(k => k.Response.Kind == ResponseKind.Rating))
        {
            var matrix = Matrix(pairs, s => Known(s, kept));
            var levels = Enumerable
                .Range(0, kept.Response.Scale!.Levels.Count)
                .Select(i => (double)i)
                .ToList();
            var complete = matrix.CompleteRows();
            var gwet = Figures.OrNull(() =>
                GwetAgreement.Of(matrix, WeightKind.Quadratic, levels, options.Confidence).Ac()
            );
            rows.Add([
                EvidenceCell.Of(AgreementItems.Label(kept)),
                EvidenceCell.Of(matrix.Subjects),
                EvidenceCell.Of(complete.Subjects),
                EvidenceCell.Of(
                    Figures.NumberOrNull(() => FleissKappa.Of(FleissKappa.Counts(complete, levels)).Kappa)
                ),
                AgreementCoefficients.Interval(
                    Figures.OrNull(() =>
                        GwetAgreement.Of(complete, WeightKind.Identity, levels, options.Confidence).Fleiss()
                    )
                ),
                EvidenceCell.Of(AgreementCoefficients.Alpha(matrix, AlphaMetric.Ordinal)),
                AgreementCoefficients.AlphaInterval(matrix, AlphaMetric.Ordinal, options),
                EvidenceCell.Of(gwet?.Coefficient),
                AgreementCoefficients.Interval(gwet),
                EvidenceCell.Of(Figures.NumberOrNull(() => CrossedVariance.Of(matrix).AgreementSingle)),
            ]);
        }

        return new EvidenceSection(
            "All raters together",
            [],
            [
                new EvidenceTable(
                    "all-raters",
                    "Ratings by any number of raters",
                    [
                        Figures.Column("item", "Answer"),
                        Figures.Column("n", "Sittings"),
                        Figures.Column("complete", "Rated by all"),
                        Figures.Column("fleiss", "Fleiss’ kappa"),
                        Figures.IntervalColumn("fleiss-interval", level),
                        Figures.Column("alpha", "Krippendorff’s alpha, ordinal"),
                        Figures.IntervalColumn("alpha-interval", level + ", resampled"),
                        Figures.Column("ac2", "Gwet’s AC2"),
                        Figures.IntervalColumn("ac2-interval", level),
                        Figures.Column("icc", "ICC(A,1) from variance components"),
                    ],
                    rows,
                    "Fleiss’ kappa uses sittings rated by all; the others also those with a record missing."
                ),
            ],
            []
        );
    }

    private static RatingMatrix Matrix(RaterPairs pairs, Func<StudySitting, double?> value) =>
        RatingMatrix.FromRows([
            .. pairs.Sittings.Select(s =>
                (IReadOnlyList<double?>)
                    [.. pairs.Raters.Select(r => s.TryGetValue(r, out var sitting) ? value(sitting) : null)]
            ),
        ]);

    private static double? Known(StudySitting sitting, KeptLines kept) =>
        (State)sitting.Scored.Lines[kept.StateLine] == State.Known
            ? sitting.Scored.Lines[kept.LowLine]
            : null;
}
