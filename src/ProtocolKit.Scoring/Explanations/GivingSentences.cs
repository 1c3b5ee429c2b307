using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says which tasks were not given and why, and what they count as.</summary>
internal static class GivingSentences
{
    public static List<string> Of(ScoredRecord scored)
    {
        var program = scored.Protocol.Program;
        if (program.Giving.Count == 0)
        {
            return [];
        }

        var giving = GivingReader.From(program, scored.Lines);
        var parts = scored
            .Protocol.Tasks.SelectMany(t => t.Variants.Select(v => new Part(t, v, giving.Of(t, v))))
            .ToList();
        return
        [
            .. Closed(scored, parts),
            .. scored.Protocol.Sections.SelectMany(s =>
                Section(scored, s, [.. parts.Where(p => p.Task.Section?.Name == s.Name)])
            ),
            .. Skipped(parts),
        ];
    }

    private static IEnumerable<string> Closed(ScoredRecord scored, List<Part> parts)
    {
        foreach (var slot in scored.Protocol.Program.History.Where(h => h.IsNeeded))
        {
            var isYes = scored.Record.Fields[slot.Field] == 1;
            foreach (var gate in slot.Question.Gates.Where(g => g.OnYes == isYes))
            {
                var closed = parts
                    .Where(p =>
                        p.Why == Giving.Closed && gate.Tasks.Contains(p.Task.Name, StringComparer.Ordinal)
                    )
                    .ToList();
                if (closed.Count > 0)
                {
                    yield return $"{List(closed)}: not possible, because the case history answers “{slot.Question.Text}” with {(isYes ? "yes" : "no")}.";
                }
            }
        }
    }

    private static IEnumerable<string> Section(ScoredRecord scored, Section section, List<Part> parts)
    {
        var below = parts.Where(p => p.Why == Giving.BelowStart).ToList();
        if (below.Count > 0)
        {
            var point = section.StartPoints.Last(s => s.From <= scored.Age);
            var start = parts.First(p => p.Task.Name == point.Task);
            yield return $"{section.Title}: started at {start.Name}, as children do from {point.From} on; {List(below)} {Count(below)} in full without being given.";
        }

        var rest = parts.Where(p => p.Why is Giving.StoppedLowest or Giving.StoppedOut).ToList();
        if (rest.Count > 0)
        {
            var last = parts.TakeWhile(p => p != rest[0]).Last(p => p.Why == Giving.Given);
            var then = rest[0].Why == Giving.StoppedLowest ? $"{Count(rest)} as the poorest" : "left out";
            yield return $"{section.Title}: stopped after {last.Name}; the rest was not given ({List(rest)}: {then}).";
        }
    }

    private static IEnumerable<string> Skipped(List<Part> parts) =>
        parts
            .Where(p => p.Why is Giving.SkippedOut or Giving.SkippedLowest or Giving.SkippedFull)
            .GroupBy(p => p.Why)
            .Select(g =>
            {
                var skipped = g.ToList();
                var credit = g.Key switch
                {
                    Giving.SkippedLowest => $"{Count(skipped)} as the poorest",
                    Giving.SkippedFull => $"{Count(skipped)} in full",
                    _ => "left out",
                };
                return $"Skipped by the protocol's rule: {List(skipped)} ({credit}).";
            });

    private static string Count(List<Part> parts) => parts.Count == 1 ? "counts" : "count";

    private static string List(IEnumerable<Part> parts) => Say.List(parts.Select(p => p.Name));

    private sealed record Part(ProtocolTask Task, Variant Variant, Giving Why)
    {
        public string Name { get; } = PartNames.Of(Task, Variant);
    }
}
