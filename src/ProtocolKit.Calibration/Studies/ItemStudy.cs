using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>What each task adds to its score: difficulty, discrimination, what was not tried, sides, time.</summary>
public static class ItemStudy
{
    /// <exception cref="StudyRefusedException">None of the scores asked for is made of items.</exception>
    public static StudyReport Run(StudyData data, StudyOptions options)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        var children = StudyFacts.EachChildOnce(data);
        var scores = ScoreValues
            .Chosen(data.Protocol, options)
            .Select(o => ScoreItems.Of(data.Protocol, o, children))
            .OfType<ScoreItems>()
            .ToList();
        if (scores.Count == 0)
        {
            throw new StudyRefusedException(
                "None of these scores adds up two or more items with points, so there is nothing to analyse item by item. Name another by --score."
            );
        }

        return new StudyReport
        {
            Kind = "items",
            Title = "Items",
            Protocol = data.Protocol,
            Asked =
            [
                Figures.Fact("Question", "What does each task add to its score?"),
                Figures.Fact("Intervals", Figures.Percent(options.Confidence)),
            ],
            Data =
            [
                Figures.Fact("Source", data.Source),
                Figures.Fact("Children", children.Count),
                Figures.Fact("Ages", StudyFacts.Ages(children)),
                .. scores.Select(s =>
                    Figures.Fact(
                        $"{s.Outcome.Title}: every item known",
                        $"{s.Complete.Count} of {s.Children.Count} children, {s.Items.Count} items"
                    )
                ),
            ],
            LeftOut =
            [
                .. StudyFacts.LeftOut(data),
                Figures.Fact(
                    "Further records of a child",
                    $"{data.Sittings.Count - children.Count}: each child counts once, with its first record"
                ),
            ],
            Sections =
            [
                .. scores.Select(s => new EvidenceSection(
                    s.Outcome.Title,
                    [],
                    [
                        ReliabilityTables.Consistency(s, options),
                        ItemTables.Difficulty(s),
                        .. Besides(s, data.Protocol),
                    ],
                    [ItemTables.Map(s)]
                )),
                new EvidenceSection(
                    "How many items, raters and sittings",
                    [],
                    [GeneralizabilityTables.Of(data, scores), GeneralizabilityTables.ThreeWay(data, scores)],
                    []
                ),
                new EvidenceSection(
                    "All tasks",
                    [],
                    [
                        ItemTables.Missing(data.Protocol, children),
                        ItemTables.Sides(data.Protocol, children, options),
                        TimeTables.Tasks(data.Protocol, children),
                        TimeTables.Sittings(children),
                    ],
                    []
                ),
            ],
            May =
            [
                "Which items are too easy or too hard for these children, and which go badly with the rest of their score.",
                "Which tasks children refuse, or don’t understand, more often than others.",
                "How closely the items of a score hang together in children like these, and how many raters or sittings a decision needs.",
            ],
            MayNot =
            [
                "That an item should go because it is easy: a task that nearly every child does may be the one that matters when a child doesn’t.",
                "That a score measures what its name says. Items can hang together and measure something else.",
                "That the figures hold at one age: children of all ages are pooled here, and growing older alone makes items go together.",
            ],
        };
    }

    private static IEnumerable<EvidenceTable> Besides(ScoreItems score, Protocol protocol) =>
        ReliabilityTables.WithCutOffs(score, protocol) is { } table ? [table] : [];
}
