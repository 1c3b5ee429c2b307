using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Reads what stands beside the answers: observations, help, history, consents, notes, and what came later.</summary>
internal sealed class ExtrasReader(MapReader map, Protocol protocol, ProblemList problems)
{
    private const string YesOrNo = "Write yes or no.";

    /// <summary>
    /// Absent means not looked; the field's lowest value says so already. A sign at a task that isn't part of the form was not to be
    /// looked for: it is told, and ignored.
    /// </summary>
    public void Observations(long[] fields, bool isShortForm)
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
                    continue;
            }

            if (isShortForm && !slots[key].Task.ShortForm)
            {
                fields[slots[key].Field] = 0;
                problems.Remark($"{key} is not part of the short form: what was seen there is ignored.");
            }
        }
    }

    /// <summary>Answers that open or close tasks go into their fields too, and may not be missing.</summary>
    public Dictionary<string, string> History(long[] fields)
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

        foreach (var slot in protocol.Program.History)
        {
            fields[slot.Field] = history.GetValueOrDefault(slot.Key) == RecordKeys.Yes ? 1 : 0;
            if (slot.IsNeeded && !IsAnswered(slot.Key))
            {
                problems.Add(
                    map.PlaceOf(RecordKeys.History),
                    slot.Key,
                    $"{slot.Key} (under history) is missing: it decides which tasks may be given.",
                    $"Add under history a line such as: {slot.Key}: no"
                );
            }
        }

        return history;
    }

    private bool IsAnswered(string question) =>
        map.Map(RecordKeys.History, $"{question}: no")?.Entries.Any(e => e.Key == question) ?? false;

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

    /// <summary>By task. How long a task took is no answer: a wrong number refuses the record all the same.</summary>
    public Dictionary<string, int> TaskSeconds()
    {
        var seconds = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (
            var (key, text) in Texts(
                RecordKeys.TaskSeconds,
                [.. protocol.Tasks.Select(t => t.Name)],
                "task: 20"
            )
        )
        {
            if (
                int.TryParse(text.Text, NumberStyles.None, CultureInfo.InvariantCulture, out var whole)
                && whole <= RecordKeys.MostTaskSeconds
            )
            {
                seconds[key] = whole;
                continue;
            }

            problems.Add(
                text.Origin,
                key,
                $"{key} (under {RecordKeys.TaskSeconds}) is {Say.Quote(text.Text)}.",
                $"Write whole seconds from 0 to {RecordKeys.MostTaskSeconds}, such as 20; or take the line out when nobody counted."
            );
        }

        return seconds;
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
            var what = level.Needed("what", EventNames.FirstOrDefault("gag"));
            var kind = KindOf(what);
            var task = kind is { Stops: not WelfareStop.Nothing }
                ? level.Needed("task", protocol.Tasks.Select(t => t.Name).FirstOrDefault("the task's name"))
                : level.Text("task");
            if (task is not null)
            {
                CheckTask(task.Text, task.Origin);
            }

            if (kind is { Stops: not WelfareStop.Nothing })
            {
                _ = level.Needed("touched", "\"what touched, and where\"");
                _ = level.Needed("recovered", "\"after how long, and how\"");
                _ = level.Needed("done", "\"what you did then\"");
            }

            events.Add(
                new SittingEvent(
                    what?.Text ?? "",
                    task?.Text,
                    level.Text("touched")?.Text,
                    level.Text("recovered")?.Text,
                    level.Text("done")?.Text
                )
                {
                    GivenBefore = GivenBefore(level),
                }
            );
        }

        return events;
    }

    /// <summary>Names with commas between them; each must be a task.</summary>
    private string? GivenBefore(MapReader level)
    {
        if (level.Text(RecordKeys.GivenBefore) is not { } text)
        {
            return null;
        }

        foreach (var name in text.Text.Split(',', StringSplitOptions.TrimEntries))
        {
            CheckTask(name, text.Origin);
        }

        return text.Text;
    }

    private void CheckTask(string name, Origin origin)
    {
        if (IsTask(name))
        {
            return;
        }

        var meant = problems.Suggest(name, protocol.Tasks.Select(t => t.Name));
        problems.Add(
            origin,
            RecordKeys.Events,
            $"{Say.Quote(name)} is no task of this protocol.",
            meant is null ? "Write the task's name as it stands on the sheet." : $"Perhaps you mean {meant}."
        );
    }

    private IEnumerable<string> EventNames => protocol.Events.Select(e => e.Name);

    /// <summary>The declared event; where the protocol declares none, any words will do.</summary>
    private EventKind? KindOf(TextNode? what)
    {
        if (what is null || protocol.Events.Count == 0)
        {
            return null;
        }

        var kind = protocol.Events.FirstOrDefault(e => e.Name == what.Text);
        if (kind is null)
        {
            var meant = problems.Suggest(what.Text, EventNames);
            problems.Add(
                what.Origin,
                RecordKeys.Events,
                $"{Say.Quote(what.Text)} is no event of this protocol.",
                meant is null ? $"Write {Say.List(EventNames, "or")}." : $"Perhaps you mean {meant}."
            );
        }

        return kind;
    }

    /// <summary>A task's name, with its side or without.</summary>
    private bool IsTask(string name) =>
        protocol.Tasks.Any(t => t.Name == name) || Parts().Any(p => p.Key == name);

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

    /// <summary>The entries of the record's help, known keys only.</summary>
    public IReadOnlyList<(string Key, TextNode Text)> Under(IReadOnlyCollection<string> known) =>
        Texts(RecordKeys.Help, known, "task: said again");

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
