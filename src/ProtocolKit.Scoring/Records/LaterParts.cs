using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Puts what later parts of a sitting finished beside what the first one brought. An answer counts once: a later part may
/// replace the reason why something was not tried, and nothing else.
/// </summary>
internal static class LaterParts
{
    /// <summary>The record as if it had been filled in one part, and what came later.</summary>
    public static (MapNode Root, IReadOnlyList<LaterEntry> Later) Merge(MapNode root, ProblemList problems)
    {
        var parts = Parts(root);
        if (!parts.Any(p => p.Entries.Any(e => RecordKeys.Finished.Contains(e.Key))))
        {
            return (root, []);
        }

        RefuseInFirst(parts[0], problems);
        var later = new List<LaterEntry>();
        var entries = root.Entries.ToList();
        foreach (var under in RecordKeys.Finished)
        {
            var at = entries.FindIndex(e => e.Key == under);
            var whole = at < 0 ? [] : (entries[at].Value as MapNode)?.Entries.ToList() ?? [];
            var first = whole.Count;
            for (var part = 2; part <= parts.Count; part++)
            {
                Add(parts[part - 1], part, under, whole, later, problems);
            }

            if (at >= 0 && entries[at].Value is MapNode before)
            {
                entries[at] = entries[at] with { Value = before with { Entries = whole } };
            }
            else if (at < 0 && whole.Count > first)
            {
                entries.Add(new Entry(under, whole[0].Origin, new MapNode(whole[0].Origin, whole)));
            }
        }

        return (root with { Entries = entries }, later);
    }

    private static List<MapNode> Parts(MapNode root) =>
        root.Entries.FirstOrDefault(e => e.Key == RecordKeys.Parts)?.Value switch
        {
            ListNode list => [.. list.Items.OfType<MapNode>()],
            MapNode only => [only],
            _ => [],
        };

    private static void RefuseInFirst(MapNode first, ProblemList problems)
    {
        foreach (var entry in first.Entries.Where(e => RecordKeys.Finished.Contains(e.Key)))
        {
            problems.Add(
                entry.Origin,
                RecordKeys.Parts,
                $"The first part has {entry.Key} of its own.",
                $"Move them to {entry.Key} at the margin; a later part holds only what it finished."
            );
        }
    }

    private static void Add(
        MapNode part,
        int number,
        string under,
        List<Entry> whole,
        List<LaterEntry> later,
        ProblemList problems
    )
    {
        if (part.Entries.FirstOrDefault(e => e.Key == under)?.Value is not MapNode added)
        {
            return;
        }

        foreach (var entry in added.Entries)
        {
            var at = whole.FindIndex(e => e.Key == entry.Key);
            if (at < 0)
            {
                whole.Add(entry);
                later.Add(new LaterEntry(number, under, entry.Key, null));
            }
            else if (under == RecordKeys.Answers && Untried(whole[at]) is { } reason)
            {
                var earlier = later.FindIndex(l => l.Under == under && l.Key == entry.Key);
                whole[at] = entry;
                if (earlier < 0)
                {
                    later.Add(new LaterEntry(number, under, entry.Key, reason));
                }
                else
                {
                    later[earlier] = later[earlier] with { Part = number };
                }
            }
            else
            {
                problems.Add(
                    entry.Origin,
                    entry.Key,
                    $"{entry.Key} is given twice: it has an answer from an earlier part.",
                    "Take it out of the later part; a slip in the earlier one belongs under corrections."
                );
            }
        }
    }

    private static string? Untried(Entry entry) =>
        entry.Value is TextNode text && States.Untried.Any(u => u.Code == text.Text.Trim())
            ? text.Text.Trim()
            : null;
}
