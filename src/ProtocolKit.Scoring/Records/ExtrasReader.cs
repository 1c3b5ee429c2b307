using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Reads what stands beside the answers: observations, help, history, consents, notes, and what came later.</summary>
internal sealed class ExtrasReader(MapReader map, Protocol protocol, ProblemList problems)
{
    private const string YesOrNo = "Write yes or no.";

    /// <summary>Absent means not looked; the field's lowest value says so already.</summary>
    public void Observations(long[] fields)
    {
        var slots = protocol.Program.Observations.ToDictionary(o => o.Key, StringComparer.Ordinal);
        var example = slots.Count == 0 ? "" : $"{slots.Keys.First()}: {RecordKeys.Seen}";
        foreach (var (key, text) in Texts(RecordKeys.Observations, slots.Keys, example))
        {
            switch (text.Text)
            {
                case RecordKeys.Seen:
                    fields[slots[key].Field] = 2;
                    break;
                case RecordKeys.Looked:
                    fields[slots[key].Field] = 1;
                    break;
                default:
                    problems.Add(
                        text.Origin,
                        key,
                        $"{key} is {Say.Quote(text.Text)}.",
                        "Write seen; or looked, when you looked and didn't see it; or take the line out when nobody looked."
                    );
                    break;
            }
        }
    }

    /// <summary>By task, with its side: the rung used, in the protocol's words.</summary>
    public Dictionary<string, string> Help()
    {
        var ladders = Parts()
            .Where(p => p.Task.Help.Count > 0)
            .ToDictionary(p => p.Key, p => p.Task, StringComparer.Ordinal);
        var help = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (key, text) in Texts(RecordKeys.Help, ladders.Keys, "task: said again"))
        {
            var rungs = ladders[key].Help.Select(r => r.Text).ToList();
            if (rungs.Contains(text.Text))
            {
                help[key] = text.Text;
                continue;
            }

            problems.Add(
                text.Origin,
                key,
                $"{Say.Quote(text.Text)} is no help this task offers.",
                $"Write {Say.List(rungs, "or")}."
            );
        }

        return help;
    }

    public Dictionary<string, string> History()
    {
        var questions = protocol.History.ToDictionary(h => h.Name, StringComparer.Ordinal);
        var history = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (key, text) in Texts(RecordKeys.History, questions.Keys, "question: yes"))
        {
            if (questions[key].Kind != HistoryAnswer.YesNo || IsYesOrNo(key, text) is not null)
            {
                history[key] = text.Text;
            }
        }

        return history;
    }

    public Dictionary<string, bool> Consents()
    {
        var consents = new Dictionary<string, bool>(StringComparer.Ordinal);
        foreach (
            var (key, text) in Texts(
                RecordKeys.Consents,
                [.. protocol.Consents.Select(c => c.Name)],
                "exam: yes"
            )
        )
        {
            if (IsYesOrNo(key, text) is { } given)
            {
                consents[key] = given;
            }
        }

        return consents;
    }

    /// <summary>By task, with its side or without.</summary>
    public Dictionary<string, string> Notes()
    {
        var keys = Parts().Select(p => p.Key).Concat(protocol.Tasks.Select(t => t.Name)).Distinct().ToList();
        return Texts(RecordKeys.Notes, keys, "task: \"what you noticed\"")
            .ToDictionary(n => n.Key, n => n.Text.Text, StringComparer.Ordinal);
    }

    public Override? Override()
    {
        const string Example = "action: the action's name";
        var entries = map.Maps(RecordKeys.Overrides, Example);
        Override? last = null;
        foreach (var entry in entries)
        {
            var level = new MapReader(entry, RecordKeys.Overrides, RecordKeys.OfOverride, problems);
            var action = level.Needed("action", "the action's name");
            var reason = level.Needed("reason", "why the rule was not followed");
            var role = level.Needed("role", "speech-language pathologist");
            if (action is null || !IsAction(action) || reason is null || role is null)
            {
                continue;
            }

            last = new Override(action.Text, reason.Text, role.Text);
        }

        if (entries.Count > 1)
        {
            problems.Add(
                map.PlaceOf(RecordKeys.Overrides),
                RecordKeys.Overrides,
                "A record holds one override.",
                "Keep the one that stands, and move the earlier ones to corrections."
            );
        }

        return last;
    }

    public List<SittingEvent> Events()
    {
        var events = new List<SittingEvent>();
        foreach (var entry in map.Maps(RecordKeys.Events, "what: gag"))
        {
            var level = new MapReader(entry, RecordKeys.Events, RecordKeys.OfEvent, problems);
            var what = level.Needed("what", "gag");
            var task = level.Text("task");
            if (task is not null && !protocol.Tasks.Any(t => t.Name == task.Text))
            {
                var meant = problems.Suggest(task.Text, protocol.Tasks.Select(t => t.Name));
                problems.Add(
                    task.Origin,
                    RecordKeys.Events,
                    $"{Say.Quote(task.Text)} is no task of this protocol.",
                    meant is null
                        ? "Write the task's name as it stands on the sheet."
                        : $"Perhaps you mean {meant}."
                );
            }

            events.Add(
                new SittingEvent(
                    what?.Text ?? "",
                    task?.Text,
                    level.Text("touched")?.Text,
                    level.Text("recovered")?.Text,
                    level.Text("done")?.Text
                )
            );
        }

        return events;
    }

    private IEnumerable<(string Key, ProtocolTask Task)> Parts() =>
        protocol.Tasks.SelectMany(t =>
            t.Variants.Select(v => (v.Name.Length == 0 ? t.Name : $"{t.Name}.{v.Name}", t))
        );

    private bool IsAction(TextNode action)
    {
        if (protocol.Actions.Any(a => a.Name == action.Text))
        {
            return true;
        }

        var names = protocol.Actions.Select(a => a.Name).ToList();
        var meant = problems.Suggest(action.Text, names);
        problems.Add(
            action.Origin,
            RecordKeys.Overrides,
            $"{Say.Quote(action.Text)} is no action of this protocol.",
            meant is null ? $"Write {Say.List(names, "or")}." : $"Perhaps you mean {meant}."
        );
        return false;
    }

    private bool? IsYesOrNo(string key, TextNode text)
    {
        if (text.Text is RecordKeys.Yes or RecordKeys.No)
        {
            return text.Text == RecordKeys.Yes;
        }

        problems.Add(text.Origin, key, $"{key} is {Say.Quote(text.Text)}.", YesOrNo);
        return null;
    }

    /// <summary>The known keys under a key of the record that hold a text; everything else is reported.</summary>
    private List<(string Key, TextNode Text)> Texts(
        string name,
        IReadOnlyCollection<string> known,
        string example
    )
    {
        if (map.Map(name, example) is not { } node)
        {
            return [];
        }

        var level = new MapReader(node, name, known, problems);
        return
        [
            .. node
                .Entries.Where(e => known.Contains(e.Key))
                .Select(e => (e.Key, Text: level.Text(e.Key)))
                .Where(t => t.Text is not null)
                .Select(t => (t.Key, t.Text!)),
        ];
    }
}
