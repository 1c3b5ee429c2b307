using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Puts corrections into effect. The record keeps what was written first, under its own key; a correction says what stood
/// there and what stands there now, and is refused where it doesn't find what it says.
/// </summary>
internal sealed class CorrectionApplier(Protocol protocol, ProblemList problems)
{
    private static readonly string[] OfTheSitting = [RecordKeys.AgeMonths, RecordKeys.Born];

    public MapNode Apply(MapNode root)
    {
        var list = root.Entries.FirstOrDefault(e => e.Key == RecordKeys.Corrections)?.Value switch
        {
            ListNode items => items.Items.OfType<MapNode>(),
            MapNode only => [only],
            _ => [],
        };
        foreach (var correction in list)
        {
            root = Apply(root, correction);
        }

        return root;
    }

    private MapNode Apply(MapNode root, MapNode correction)
    {
        if (
            Text(correction, "key") is not { IsBlank: false } key
            || Text(correction, "old") is not { IsBlank: false } old
            || Text(correction, "new") is not { IsBlank: false } now
        )
        {
            // What is missing is told where corrections are read.
            return root;
        }

        if (Under(key) is not { } under)
        {
            return root;
        }

        if (under.Length == 0)
        {
            return root with { Entries = Change(root.Entries, key, old, now) };
        }

        var at = root.Entries.ToList().FindIndex(e => e.Key == under);
        var level = at < 0 ? null : root.Entries[at].Value as MapNode;
        var entries = Change(level?.Entries ?? [], key, old, now);
        var changed = new MapNode(level?.Origin ?? key.Origin, entries);
        return root with
        {
            Entries =
                at < 0
                    ? [.. root.Entries, new Entry(under, key.Origin, changed)]
                    : [.. root.Entries.Select((e, i) => i == at ? e with { Value = changed } : e)],
        };
    }

    /// <summary>The key the corrected line stands under, empty for the record's own; nothing, after reporting, for no such line.</summary>
    private string? Under(TextNode key)
    {
        if (OfTheSitting.Contains(key.Text))
        {
            return "";
        }

        var program = protocol.Program;
        if (program.Answers.Any(a => a.Key == key.Text))
        {
            return RecordKeys.Answers;
        }

        if (program.Observations.Any(o => o.Key == key.Text))
        {
            return RecordKeys.Observations;
        }

        var meant = problems.Suggest(
            key.Text,
            program
                .Answers.Select(a => a.Key)
                .Concat(program.Observations.Select(o => o.Key))
                .Concat(OfTheSitting)
        );
        problems.Add(
            key.Origin,
            RecordKeys.Corrections,
            $"{Say.Quote(key.Text)} is nothing that can be corrected.",
            meant is null
                ? "Write the full name of an answer or of an observation, age-months or born."
                : $"Perhaps you mean {meant}."
        );
        return null;
    }

    private IReadOnlyList<Entry> Change(
        IReadOnlyList<Entry> entries,
        TextNode key,
        TextNode old,
        TextNode now
    )
    {
        var at = entries.ToList().FindIndex(e => e.Key == key.Text);
        var stands = at < 0 ? null : entries[at].Value as TextNode;
        var found = stands is null or { IsBlank: true } ? RecordKeys.Absent : stands.Text;
        if (!Same(key.Text, found, old.Text))
        {
            problems.Add(
                old.Origin,
                RecordKeys.Corrections,
                $"The correction says that {key.Text} was {Say.Quote(old.Text)}, but the record has {Say.Quote(found)}.",
                "Write what the record has as old. The record keeps what was written first; the correction holds the new value."
            );
            return entries;
        }

        if (Same(key.Text, old.Text, now.Text))
        {
            problems.Add(
                now.Origin,
                RecordKeys.Corrections,
                $"The correction of {key.Text} changes nothing.",
                "Write the new value, or take the correction out."
            );
            return entries;
        }

        if (now.Text.Trim() == RecordKeys.Absent)
        {
            return [.. entries.Where((_, i) => i != at)];
        }

        return at < 0
            ? [.. entries, new Entry(key.Text, now.Origin, now)]
            : [.. entries.Select((e, i) => i == at ? e with { Value = now } : e)];
    }

    /// <summary>Two spellings of one answer, such as 3 and 3.0, are the same.</summary>
    private bool Same(string key, string a, string b)
    {
        if (a.Trim() == b.Trim())
        {
            return true;
        }

        var slot = protocol.Program.Answers.FirstOrDefault(s => s.Key == key);
        if (slot is null)
        {
            return false;
        }

        var (one, other) = (AnswerValue.Read(slot.Response, a), AnswerValue.Read(slot.Response, b));
        return !one.IsWrong && !other.IsWrong && (one.State, one.Steps) == (other.State, other.Steps);
    }

    private static TextNode? Text(MapNode map, string key) =>
        map.Entries.FirstOrDefault(e => e.Key == key)?.Value as TextNode;
}
