using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>Lays out each task of the sheet, in giving order.</summary>
internal static class TaskViews
{
    /// <summary>Tasks in the order in which they are given, only those of the short form where it is asked for.</summary>
    public static IReadOnlyList<ProtocolTask> Given(Protocol protocol, OutputOptions options) =>
        protocol.Tasks.Where(t => !options.ShortForm || t.ShortForm).OrderBy(t => t.Number).ToList();

    public static IReadOnlyList<TaskView> Of(Protocol protocol, OutputOptions options)
    {
        var tasks = Given(protocol, options);
        var views = new List<TaskView>(tasks.Count);
        ProtocolTask? before = null;
        foreach (var task in tasks)
        {
            views.Add(Of(task, before, protocol, options));
            before = task;
        }

        return views;
    }

    private static TaskView Of(
        ProtocolTask task,
        ProtocolTask? before,
        Protocol protocol,
        OutputOptions options
    )
    {
        var rungs = Rungs(task);
        var newContact = task.Contact != (before?.Contact ?? Contact.None);
        var newSection = before is null || before.Section?.Name != task.Section?.Name || newContact;
        return new(
            task.Name,
            task.Number.ToString(CultureInfo.InvariantCulture),
            task.Title,
            Words.Of(task.Contact),
            task.Contact != Contact.None,
            task.ShortForm && protocol.HasShortForm && !options.ShortForm,
            newContact ? BannerOf(task.Contact, protocol) : null,
            newSection ? task.Section?.Title : null,
            Rule(task, newSection && IsFirst(task, protocol) ? task.Section : null, protocol),
            Scales(task),
            rungs,
            Layout(task),
            task.Responses.All(r => r.HasOptions),
            Parts(task, rungs.Count > 0),
            task.Note ?? "Notes"
        );
    }

    private static BannerView BannerOf(Contact contact, Protocol protocol) =>
        contact == Contact.None
            ? new("From here: no touch", "")
            : new(
                $"From here: {Words.Of(contact)}",
                $"{Duties.Agreement.In(protocol)} {Duties.StopSigns.In(protocol)}"
            );

    /// <summary>A section's rules stand once, where its first task stands.</summary>
    private static bool IsFirst(ProtocolTask task, Protocol protocol) =>
        task.Section is { } section && protocol.Tasks.First(t => t.Section?.Name == section.Name) == task;

    private static string Rule(ProtocolTask task, Section? begins, Protocol protocol)
    {
        var parts = begins is null ? [] : GivingWords.OfSection(protocol, begins).ToList();
        parts.AddRange(GivingWords.OfTask(task));
        if (task.Practice is not null)
        {
            parts.Add("Practice first.");
        }

        if (task.Hold is not null)
        {
            parts.Add($"Hold {task.Hold}.");
        }

        if (task.Responses.Any(r => r.Kind == ResponseKind.Direction))
        {
            parts.Add("Where it goes: child’s own side.");
        }

        parts.AddRange(task.Responses.Where(r => r.IsNumber).Select(NumberRule));
        parts.Add(Words.OfTrials(task));
        parts.Add(Words.OfOrder(task));
        return string.Join(' ', parts.Where(p => p.Length > 0));
    }

    private static string NumberRule(Response response)
    {
        var text = $"{Words.OfNumber(response)}: {Words.Bounds(response)}.";
        return char.ToUpperInvariant(text[0]) + text[1..];
    }

    private static List<ScaleView> Scales(ProtocolTask task)
    {
        var ratings = task
            .Responses.Where(r => r.Kind == ResponseKind.Rating && r.Scale is not null)
            .ToList();
        return ratings
            .GroupBy(r => r.Scale!)
            .Select(g => new ScaleView(
                ratings.Count > 1 ? string.Join(", ", g.Select(r => Names.ToTitle(r.Name))) : null,
                Levels(g.Key)
            ))
            .ToList();
    }

    public static IReadOnlyList<LevelView> Levels(Scale scale) =>
        scale.Levels.Select(l => new LevelView(l.Points.ToString(), l.Text, l.Example)).ToList();

    /// <summary>None, then the rungs that are help; what the task begins with stands in its rule.</summary>
    public static IReadOnlyList<RungView> Rungs(ProtocolTask task) =>
        task.HelpRungs() is { Count: > 0 } help
            ?
            [
                new("0", "none"),
                .. help.Select(
                    (h, i) => new RungView((i + 1).ToString(CultureInfo.InvariantCulture), RungText(h))
                ),
            ]
            : [];

    private static string RungText(HelpRung rung)
    {
        var cost = rung.Cost.Sign > 0 ? $"costs {rung.Cost}" : "";
        var touch = rung.Contact == Contact.None ? "" : Words.Of(rung.Contact);
        var marks = string.Join(", ", new[] { touch, cost }.Where(m => m.Length > 0));
        return marks.Length == 0 ? rung.Text : $"{rung.Text} ({marks})";
    }

    private static string Layout(ProtocolTask task)
    {
        if (task.Variants.Count > 1 || task.IsSided)
        {
            return "pair";
        }

        if (task.Responses.Count == 0)
        {
            return "ticks";
        }

        return task.Ticks.Count == 0 ? "plain" : "single";
    }

    /// <summary>Sides in the order of the page, the child's right first; all else in giving order.</summary>
    private static List<PartView> Parts(ProtocolTask task, bool help)
    {
        var variants = task.IsSided
            ? task.Variants.OrderBy(v => Words.IsSide(v, "right") ? 0 : 1)
            : task.Variants.AsEnumerable();
        return variants
            .Select(v => new PartView(
                Words.Of(task, v),
                task.IsSided && v.Name is "right" or "left" ? v.Name : "",
                Trials(task, v),
                help,
                task.Ticks.Select(t => new TickView(ObservationKey(task, t, v), t.Observation.Text)).ToList()
            ))
            .ToList();
    }

    private static List<TrialView> Trials(ProtocolTask task, Variant variant)
    {
        if (task.Responses.Count == 0)
        {
            return [];
        }

        var labelled = task.Responses.Count(r => r.Kind == ResponseKind.Rating) > 1;
        return Enumerable
            .Range(1, task.Trials.Count)
            .Select(trial => new TrialView(
                task.Trials.Count > 1 ? string.Create(CultureInfo.InvariantCulture, $"Trial {trial}") : null,
                task.Responses.Select(r => AnswerViews.Of(r, AnswerKey(task, r, variant, trial), labelled))
                    .ToList()
            ))
            .ToList();
    }

    private static string AnswerKey(ProtocolTask task, Response response, Variant variant, int trial)
    {
        var key = $"{task.Name}.{response.Name}";
        key = variant.Name.Length == 0 ? key : $"{key}.{variant.Name}";
        return task.Trials.Count > 1
            ? string.Create(CultureInfo.InvariantCulture, $"{key}.trial-{trial}")
            : key;
    }

    private static string ObservationKey(ProtocolTask task, Tick tick, Variant variant)
    {
        var key = $"{task.Name}.{tick.Observation.Name}";
        return variant.Name.Length == 0 ? key : $"{key}.{variant.Name}";
    }
}
