using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// What children of an age reach: percentiles by age, raw and smoothed, with intervals, mean and SD, LMS; where asked,
/// apart by a group such as sex.
/// </summary>
public static class NormStudy
{
    /// <exception cref="StudyRefusedException">The group asked for stands in none of the records.</exception>
    public static StudyReport Run(StudyData data, StudyOptions options)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        var all = StudyFacts.EachChildOnce(data);
        var children = all.Where(c => c.Reference.IsCase != true).ToList();
        var groups = Groups(children, options);
        if (children.Count == 0)
        {
            throw new StudyRefusedException(
                "Every child here was judged a case, so there is nobody to take norms from."
            );
        }

        var sections = new List<EvidenceSection>();
        foreach (var outcome in ScoreValues.Chosen(data.Protocol, options))
        {
            foreach (var (label, members) in groups)
            {
                sections.Add(new NormTables(data.Protocol, outcome, label, members, options).Section());
            }
        }

        return new StudyReport
        {
            Kind = "norms",
            Title = "Norms by age",
            Protocol = data.Protocol,
            Asked =
            [
                Figures.Fact("Question", "What do children of an age reach?"),
                Figures.Fact("Intervals", Figures.Percent(options.Confidence)),
                Figures.Fact("Apart by", options.By ?? "nothing: all children together"),
            ],
            Data =
            [
                Figures.Fact("Source", data.Source),
                Figures.Fact("Children in the norms", children.Count),
                Figures.Fact("Ages", StudyFacts.Ages(children)),
                Figures.Fact("Seen", StudyFacts.Days(children)),
                .. groups.Where(g => g.Label.Length > 0).Select(g => Figures.Fact(g.Label, g.Members.Count)),
            ],
            LeftOut =
            [
                .. StudyFacts.LeftOut(data),
                Figures.Fact(
                    "Judged as cases",
                    $"{all.Count - children.Count}: pilots take in more cases than come by themselves, so the norms are of the others"
                ),
                Figures.Fact(
                    "Further records of a child",
                    $"{data.Sittings.Count - all.Count}: each child counts once, with its first record"
                ),
            ],
            Sections = sections,
            May =
            [
                "What these children reached at each age, and how sure each percentile is.",
                "Where one child stands beside them, as a mid-rank percentile: half of the children with the same value count as below.",
            ],
            MayNot =
            [
                "That these are norms of all children: they are of the children in this pilot, and nobody drew them by lot.",
                "That a low percentile is a disorder. Five of a hundred children without any lie below the fifth.",
                $"Much at the edges: with fewer than {Basis.SmallRow} children at an age, the lowest percentiles rest on one or two of them and stay provisional.",
            ],
        };
    }

    private static List<(string Label, IReadOnlyList<StudySitting> Members)> Groups(
        IReadOnlyList<StudySitting> children,
        StudyOptions options
    )
    {
        if (options.By is not { } column)
        {
            return [("", children)];
        }

        var known = children.Where(c => c.Groups.ContainsKey(column)).ToList();
        if (known.Count == 0)
        {
            var there = children
                .SelectMany(c => c.Groups.Keys)
                .Distinct()
                .Order(StringComparer.Ordinal)
                .ToList();
            throw new StudyRefusedException(
                $"No record has a group \"{column}\". "
                    + (
                        there.Count == 0
                            ? "The data hold no groups at all."
                            : $"There is: {string.Join(", ", there)}."
                    )
            );
        }

        return
        [
            .. known
                .GroupBy(c => c.Groups[column])
                .OrderBy(g => g.Key, StringComparer.Ordinal)
                .Select(g => ($"{column} {g.Key}", (IReadOnlyList<StudySitting>)[.. g])),
        ];
    }
}
