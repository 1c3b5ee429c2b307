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
        RefuseWeights(data.Protocol, options);
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
            sections.Add(new AllRaters(data.Protocol, pairs, options).Section());
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

    private static void RefuseWeights(Protocol protocol, StudyOptions options)
    {
        var sizes = protocol
            .Program.Kept.Where(k => k.Response.Kind == ResponseKind.Rating)
            .Select(k => k.Response.Scale!.Levels.Count)
            .Distinct()
            .Order()
            .ToList();
        if (options.KappaWeights.Count > 0 && !sizes.Contains(options.KappaWeights.Count))
        {
            throw new StudyRefusedException(
                $"The weights are for {options.KappaWeights.Count} levels, and "
                    + (
                        sizes.Count == 0
                            ? "this protocol has no ratings."
                            : $"ratings of this protocol have {string.Join(" or ", sizes)}."
                    )
            );
        }
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
        var coefficients = new AgreementCoefficientTables(pair, options);
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
                "Further coefficients" + title,
                [],
                [Named(coefficients.Levels()), Named(coefficients.Numbers())],
                []
            )
        );
        sections.Add(
            new EvidenceSection(
                "Codes, help and observations" + title,
                besides.Observations() is null
                    ?
                    [
                        "No observation was looked for by both raters, so their agreement on these can’t be seen.",
                    ]
                    : [],
                [
                    .. new[] { besides.Codes(), besides.Help(), besides.Observations() }
                        .OfType<EvidenceTable>()
                        .Select(Named),
                ],
                []
            )
        );

        EvidenceTable Named(EvidenceTable table) => table with { Name = table.Name + suffix };
    }
}
