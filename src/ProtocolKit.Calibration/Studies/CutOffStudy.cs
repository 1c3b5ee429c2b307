using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// Which cut separates children who need help from the others, how well, and how sure that is. Every child counts
/// once, with its first sitting; children without a reference judgement and open values are left out and counted.
/// </summary>
public static class CutOffStudy
{
    /// <exception cref="StudyRefusedException">No reference judgements, no cases, or nobody but cases.</exception>
    public static StudyReport Run(
        StudyData data,
        StudyOptions options,
        IProgress<(int Done, int All)>? progress = null
    )
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        var children = StudyFacts.EachChildOnce(data);
        var judged = children.Where(c => c.Reference.IsCase is not null).ToList();
        Refuse(children, judged);
        var chosen = ScoreValues
            .Chosen(data.Protocol, options)
            .Select(o => CutOffData.Of(data.Protocol, o, children))
            .ToList();
        var all = ScoreValues
            .Banded(data.Protocol)
            .Select(o => CutOffData.Of(data.Protocol, o, children))
            .ToList();
        var sections = new List<EvidenceSection>
        {
            new(
                "All banded scores",
                VerificationBias(children, judged),
                [
                    CutTables.Areas(all, options),
                    CutTables.Differences(chosen, children, options),
                    BandsNow.Table(data.Protocol, judged, options),
                ],
                []
            ),
        };
        var blocks = new List<PasteBlock>();
        for (var i = 0; i < chosen.Count; i++)
        {
            AddScore(
                sections,
                blocks,
                chosen[i],
                data,
                judged,
                options,
                Part(progress, i * options.Resamples, chosen.Count * options.Resamples)
            );
        }

        progress?.Report((1, 1));
        sections.Add(PilotPlanning.Section(options));
        return Report(data, options, children, judged, sections, blocks);
    }

    private static void AddScore(
        List<EvidenceSection> sections,
        List<PasteBlock> blocks,
        CutOffData score,
        StudyData data,
        IReadOnlyList<StudySitting> judged,
        StudyOptions options,
        IProgress<int>? progress
    )
    {
        if (score.Curve() is not { } curve)
        {
            sections.Add(
                new EvidenceSection(
                    score.Outcome.Title,
                    [
                        $"No curve: of {score.Judged.Count} children with a known value {score.Cases} are cases. Both kinds are needed.",
                    ],
                    [],
                    []
                )
            );
            return;
        }

        var tables = new List<EvidenceTable> { CutTables.Criteria(score, curve, options) };
        tables.Add(StandardCuts.Judgements(score));
        if (JudgedCuts.Of(score, data) is { } judges)
        {
            tables.Add(judges);
        }

        tables.Add(Optimism.Of(score, curve, options, progress));
        if (
            StandardCuts.Consistency(
                score,
                curve,
                ScoreItems.Of(data.Protocol, score.Outcome, judged),
                options
            ) is
            { } consistency
        )
        {
            tables.Add(consistency);
        }

        if (new CutOffBlock(score, options, StudyFacts.Days(judged), Blind(judged)).Write() is { } written)
        {
            tables.Add(written.Rows);
            blocks.Add(written.Block);
        }

        tables.Add(CutTables.Cuts(score, curve, options));
        tables.Add(CutTables.Ratios(score, curve, options));
        sections.Add(
            new EvidenceSection(score.Outcome.Title, [], tables, [CutTables.Plot(score, curve, options)])
        );
    }

    private static PartOf? Part(IProgress<(int Done, int All)>? whole, int before, int all) =>
        whole is null ? null : new PartOf(whole, before, all);

    /// <summary>One score's share of the bar.</summary>
    private sealed class PartOf(IProgress<(int Done, int All)> whole, int before, int all) : IProgress<int>
    {
        public void Report(int value) => whole.Report((before + value, all));
    }

    private static StudyReport Report(
        StudyData data,
        StudyOptions options,
        IReadOnlyList<StudySitting> children,
        IReadOnlyList<StudySitting> judged,
        IReadOnlyList<EvidenceSection> sections,
        IReadOnlyList<PasteBlock> blocks
    )
    {
        var cases = judged.Count(c => c.Reference.IsCase == true);
        return new StudyReport
        {
            Kind = "cut-offs",
            Title = "Cut-offs",
            Protocol = data.Protocol,
            Asked =
            [
                Figures.Fact(
                    "Question",
                    "Which value of a score tells children who need help from the others?"
                ),
                Figures.Fact("Intervals", Figures.Percent(options.Confidence)),
                Figures.Fact(
                    "Prevalence for predictive values",
                    $"{Figures.Plain(options.Prevalence * 100)} of 100 children, as stated; not the share in these data"
                ),
                Figures.Fact("Sensitivity to keep", Figures.Number(options.Sensitivity)),
                Figures.Fact("A missed child is worth", $"{Figures.Plain(options.MissCost)} false alarms"),
                Figures.Fact("Bootstrap", $"{options.Resamples} resamples, seed {options.Seed}"),
            ],
            Data =
            [
                Figures.Fact("Source", data.Source),
                Figures.Fact("Children", children.Count),
                Figures.Fact("With a reference judgement", judged.Count),
                Figures.Fact("Cases", $"{cases}, others {judged.Count - cases}"),
                Figures.Fact("Judge blind to the screen", Blind(judged)),
                Figures.Fact("Ages", StudyFacts.Ages(children)),
                Figures.Fact("Seen", StudyFacts.Days(children)),
            ],
            LeftOut =
            [
                .. StudyFacts.LeftOut(data),
                Figures.Fact("Children not judged", $"{children.Count - judged.Count}"),
                Figures.Fact(
                    "Further records of a child",
                    $"{data.Sittings.Count - children.Count}: each child counts once, with its first record"
                ),
            ],
            Sections = sections,
            Blocks = blocks,
            May =
            [
                "How well each score tells these cases from these other children, and what each cut would miss and alarm needlessly.",
                $"Which cut to choose, once the clinic has decided what a missed child is worth beside a false alarm. At {Figures.Plain(options.Prevalence * 100)} of 100, the predictive values say what a result means.",
                "Whether a row by age has children enough: those that have not stay provisional.",
            ],
            MayNot =
            [
                "That the cuts do as well on other children: cuts chosen on the same children flatter themselves (see the optimism), so try them on new ones.",
                "That a child pointed out has a disorder. A screen makes no diagnosis; the misses and false alarms are counted in the tables.",
                $"That {Figures.Number(100.0 * cases / judged.Count, 0)} of 100 children need help: pilots often take in more cases than come by themselves.",
                .. judged.All(c => c.Reference.IsBlind == true)
                    ? []
                    : new[]
                    {
                        "That the areas are right where the judge knew the screen’s result: such judgements lean towards it.",
                    },
                .. cases < 30
                    ? new[] { $"Much from {cases} cases: sensitivity is known only within a wide interval." }
                    : [],
            ],
        };
    }

    /// <summary>Where only some children were judged, those judged are seldom like the others.</summary>
    private static IReadOnlyList<string> VerificationBias(
        IReadOnlyList<StudySitting> children,
        IReadOnlyList<StudySitting> judged
    )
    {
        var rest = children.Except(judged).ToList();
        if (rest.Count == 0)
        {
            return ["Every child has a reference judgement, so the figures are free of verification bias."];
        }

        return
        [
            $"Beware of verification bias: {rest.Count} of {children.Count} children have no reference judgement. A worst band stands in {Share(judged)} of those judged "
                + $"and in {Share(rest)} of those not judged. Where screened-out children are judged less often, sensitivity looks better and specificity worse than it is. "
                + "Judge all children, or a sample drawn by lot from every band.",
        ];

        static string Share(IReadOnlyList<StudySitting> some) =>
            Figures.Number(
                100.0
                    * some.Count(s =>
                        s.Scored.Bands.Any(b => b.Band is { } band && band.Name == b.Table.Bands[0].Name)
                    )
                    / some.Count,
                0
            ) + " of 100";
    }

    private static string Blind(IReadOnlyList<StudySitting> judged)
    {
        var blind = judged.Count(c => c.Reference.IsBlind == true);
        return blind == judged.Count ? "yes"
            : judged.All(c => c.Reference.IsBlind is null) ? "not written down"
            : $"{blind} of {judged.Count}";
    }

    private static void Refuse(IReadOnlyList<StudySitting> children, IReadOnlyList<StudySitting> judged)
    {
        if (judged.Count == 0)
        {
            throw new StudyRefusedException(
                $"Cut-offs need a reference judgement, and none of these {children.Count} children has one. Add a column reference (case or no-case), "
                    + "or a table of judgements by --reference. Nothing is made up in its place."
            );
        }

        var cases = judged.Count(c => c.Reference.IsCase == true);
        if (cases == 0 || cases == judged.Count)
        {
            throw new StudyRefusedException(
                cases == 0
                    ? $"None of the {judged.Count} judged children is a case, so nobody knows what a cut would find. Take in children who need help."
                    : $"All {judged.Count} judged children are cases, so nobody knows what a cut would alarm needlessly. Take in children who don’t need help."
            );
        }
    }
}
