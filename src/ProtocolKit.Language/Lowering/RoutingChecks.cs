using System.Globalization;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Whether a section's start points, stop rule and order of difficulty can mean anything for its tasks.</summary>
internal sealed class RoutingChecks(
    Declarations declared,
    ILookup<string, RoutedPart> bySection,
    DiagnosticBag diagnostics
)
{
    public void Run()
    {
        foreach (var block in declared.Sections.Values)
        {
            var parts = bySection[block.Name.Text].ToList();
            var isWhole =
                !block.Incomplete
                && !block.Body.Exists(b => b is TaskBlock t && declared.Values.IsBroken(t.Name.Text));
            if (block.Body.OfType<DifficultyLine>().FirstOrDefault() is { } difficulty)
            {
                Order(block, difficulty, parts);
            }

            Starts(block, parts, isWhole);
            if (block.Body.OfType<StopAfterLine>().FirstOrDefault() is { } stop)
            {
                Stop(stop, parts, isWhole);
            }
        }
    }

    private void Order(SectionBlock block, DifficultyLine line, List<RoutedPart> parts)
    {
        var written = block.Body.OfType<TaskBlock>().Select(t => t.Name.Text).ToList();
        var given = parts.Select(p => p.Task.Name).Distinct(StringComparer.Ordinal).ToList();
        for (var i = 1; i < given.Count; i++)
        {
            if (written.IndexOf(given[i]) < written.IndexOf(given[i - 1]))
            {
                diagnostics.Report(line.Source, line.Place, RoutingMessages.Order(given[i], given[i - 1]));
                return;
            }
        }
    }

    private void Starts(SectionBlock block, List<RoutedPart> parts, bool isWhole)
    {
        var starts = block.Body.OfType<StartLine>().ToList();
        var back = block.Body.OfType<GoBackLine>().FirstOrDefault();
        if (starts.Count == 0)
        {
            if (back is not null && isWhole)
            {
                diagnostics.Report(back.Source, back.Place, RoutingMessages.NoStart(block.Name.Text));
            }

            return;
        }

        if (!block.Body.Exists(b => b is DifficultyLine) && !block.Incomplete)
        {
            diagnostics.Report(
                starts[0].Source,
                starts[0].Place,
                RoutingMessages.Difficulty(block.Name.Text)
            );
        }
        else if (back is null && !block.Incomplete)
        {
            diagnostics.Report(starts[0].Source, starts[0].Place, RoutingMessages.NoWayBack(block.Name.Text));
        }

        foreach (var start in starts)
        {
            Start(block, start, parts, isWhole);
        }

        Growing(starts, parts);
    }

    private void Start(SectionBlock block, StartLine line, List<RoutedPart> parts, bool isWhole)
    {
        var names = parts.Select(p => p.Task.Name).Distinct(StringComparer.Ordinal).ToList();
        var index = names.IndexOf(line.Task.Text);
        if (index < 0)
        {
            var nearest = diagnostics.Nearest(line.Task.Text, names);
            if (isWhole || nearest is not null)
            {
                diagnostics.Report(
                    line.Source,
                    line.Task.Place,
                    NameMessages.Unknown($"task in the section {block.Name.Text}", line.Task.Text, nearest)
                );
            }
        }
        else if (index == 0 && isWhole)
        {
            diagnostics.Report(
                line.Source,
                line.Task.Place,
                RoutingMessages.Reach(
                    $"{line.Task.Text} is the section's first task: everybody starts there anyway.",
                    "Name a later task, or take the line out."
                )
            );
        }
    }

    /// <summary>Older children start later: two points at one age, or one further back, would say two things.</summary>
    private void Growing(List<StartLine> starts, List<RoutedPart> parts)
    {
        var names = parts.Select(p => p.Task.Name).Distinct(StringComparer.Ordinal).ToList();
        var points = parts.Count == 0 ? [] : parts[0].Task.Section!.StartPoints;
        for (var i = 1; i < points.Count; i++)
        {
            var (before, now) = (points[i - 1], points[i]);
            if (before.From == now.From || names.IndexOf(now.Task) <= names.IndexOf(before.Task))
            {
                var line = starts.First(s => s.Task.Text == now.Task);
                diagnostics.Report(
                    line.Source,
                    line.Place,
                    RoutingMessages.Reach(
                        $"From {before.From} on children start at {before.Task}, from {now.From} on at {now.Task}, which isn't later.",
                        "Let older children start at later tasks."
                    )
                );
                return;
            }
        }
    }

    private void Stop(StopAfterLine line, List<RoutedPart> parts, bool isWhole)
    {
        if (line.Points.Number is not { } points || line.Count.Number is not { } count)
        {
            return;
        }

        var rated = parts.Where(p => p.Rating is not null).ToList();
        foreach (var scale in rated.Select(p => p.Rating!.Response.Scale!).DistinctBy(s => s.Name))
        {
            if (PoorestOf(scale) is not { } poorest)
            {
                diagnostics.Report(line.Source, line.Place, RoutingMessages.StopMiddle(scale.Name));
                return;
            }

            if (poorest != points)
            {
                diagnostics.Report(
                    line.Source,
                    line.Points.Place,
                    RoutingMessages.StopPoints(scale.Name, points, poorest)
                );
                return;
            }
        }

        if (isWhole && count > rated.Count)
        {
            var tasks = rated.Count.ToString(CultureInfo.InvariantCulture);
            diagnostics.Report(
                line.Source,
                line.Count.Place,
                RoutingMessages.Reach(
                    $"The section rates {tasks} {(rated.Count == 1 ? "task" : "tasks, sides and places")}, so {count} in a row can't happen.",
                    "Stop after fewer, or take the line out."
                )
            );
        }
    }

    private static Rational? PoorestOf(Scale scale) =>
        scale.Better switch
        {
            Better.Higher => scale.Levels.Min(l => l.Points),
            Better.Lower => scale.Levels.Max(l => l.Points),
            _ => null,
        };
}
