using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper.Cards;

/// <summary>What stands on the front and on the back of a task's card, before it is spread over cards.</summary>
internal static class CardTexts
{
    public static IReadOnlyList<CardBlock> Front(ProtocolTask task)
    {
        var blocks = new List<CardBlock>();
        if (task.Title.Length > CardMetrics.LongestTitle)
        {
            blocks.Add(Line("Title", task.Title));
        }

        AddGiven(blocks, task);
        Add(blocks, "Go", task.Go);
        Add(blocks, "Hold", task.Hold);
        Add(blocks, "Practice", task.Practice);
        Add(blocks, "Trials", Words.OfTrials(task));
        if (IsGivenAlike(task))
        {
            Add(blocks, "Order", Words.OfVariants(task));
        }

        Add(blocks, "If not understood", task.Repeat is null ? null : $"Repeat {task.Repeat}.");
        Add(blocks, "Needs", string.Join(", ", task.Materials.Select(m => Names.ToWords(m.Name))));
        return blocks;
    }

    public static IReadOnlyList<CardBlock> Back(ProtocolTask task, Protocol protocol)
    {
        var blocks = new List<CardBlock>();
        foreach (var response in task.Responses)
        {
            AddAnswer(blocks, task, response);
        }

        AddHelp(blocks, task);
        AddList(blocks, "Stop when", task.StopWhen);
        AddList(
            blocks,
            "Give or leave out",
            [
                .. GivingWords.OfTask(task),
                .. task.Section is { } section ? GivingWords.OfSection(protocol, section) : [],
            ]
        );
        AddList(blocks, "Take care", CautionsOf(task, protocol));
        return blocks;
    }

    /// <summary>What may be ticked; it stands in front where there is room.</summary>
    public static IReadOnlyList<CardBlock> LookFor(ProtocolTask task)
    {
        var blocks = new List<CardBlock>();
        AddList(blocks, "Look for", task.Ticks.Select(t => t.Observation.Text));
        return blocks;
    }

    public static CardBlock Line(string label, string text) => new(CardBlockKind.Line, label, text);

    public static CardBlock Heading(string text) => new(CardBlockKind.Heading, "", text);

    /// <summary>A mark too wide to hang before the text becomes a label in it.</summary>
    public static CardBlock Item(string mark, string text) =>
        TextMeasure.Width(mark, CardMetrics.TextSize, bold: true) < CardMetrics.HangOf(mark) - 0.5
            ? new(CardBlockKind.Item, mark, text)
            : Line(mark, text);

    /// <summary>Words and showing once where all sides share them, else side by side with their names.</summary>
    private static void AddGiven(List<CardBlock> blocks, ProtocolTask task)
    {
        var sameSay = IsSaidAlike(task);
        var sameShow = IsShownAlike(task);
        if (sameSay)
        {
            AddSay(blocks, task.Variants[0]);
        }

        foreach (var variant in IsGivenAlike(task) ? [] : task.Variants)
        {
            blocks.Add(
                Heading((variant == task.Variants[0] ? "First: " : "Then: ") + Words.Of(task, variant))
            );
            if (!sameSay)
            {
                AddSay(blocks, variant);
            }

            if (!sameShow)
            {
                AddShow(blocks, variant);
            }
        }

        if (sameShow)
        {
            AddShow(blocks, task.Variants[0]);
        }
    }

    private static bool IsGivenAlike(ProtocolTask task) => IsSaidAlike(task) && IsShownAlike(task);

    private static bool IsSaidAlike(ProtocolTask task) =>
        task.Variants.All(v => v.Say.SequenceEqual(task.Variants[0].Say));

    private static bool IsShownAlike(ProtocolTask task) =>
        task.Variants.All(v => v.Show.SequenceEqual(task.Variants[0].Show));

    private static void AddSay(List<CardBlock> blocks, Variant variant) =>
        blocks.AddRange(variant.Say.Select(text => new CardBlock(CardBlockKind.Say, "", $"“{text}”")));

    private static void AddShow(List<CardBlock> blocks, Variant variant) =>
        blocks.AddRange(variant.Show.Select((text, i) => Line(i == 0 ? "Show" : "", text)));

    private static void Add(List<CardBlock> blocks, string label, string? text)
    {
        if (!string.IsNullOrEmpty(text))
        {
            blocks.Add(Line(label, text));
        }
    }

    private static void AddList(List<CardBlock> blocks, string heading, IEnumerable<string> items)
    {
        var list = items.ToList();
        if (list.Count > 0)
        {
            blocks.Add(Heading(heading));
            blocks.AddRange(list.Select(text => Item(CardMetrics.Dash, text)));
        }
    }

    private static void AddAnswer(List<CardBlock> blocks, ProtocolTask task, Response response)
    {
        switch (response.Kind)
        {
            case ResponseKind.Rating when response.Scale is { } scale:
                var alone = task.Responses.Count(r => r.Kind == ResponseKind.Rating) == 1;
                blocks.Add(Heading(alone ? "Rate" : "Rate: " + Names.ToWords(response.Name)));
                blocks.AddRange(scale.Levels.Select(Level));
                break;
            case ResponseKind.Direction:
                blocks.Add(
                    Line("Write", "where it goes: the child’s right, the middle, or the child’s left.")
                );
                break;
            case ResponseKind.Choice or ResponseKind.YesNo:
                AddList(
                    blocks,
                    response.Name is "choice" or "yes-no"
                        ? "Choose"
                        : "Choose: " + Names.ToWords(response.Name),
                    response.Options.Select(o => o.Text.Length > 0 ? o.Text : Names.ToWords(o.Name))
                );
                break;
            default:
                blocks.Add(
                    Line(
                        response.Kind == ResponseKind.Count ? "Count"
                            : response.Kind == ResponseKind.Time ? "Time"
                            : "Measure",
                        Number(response)
                    )
                );
                break;
        }
    }

    private static CardBlock Level(Level level) =>
        Item(
            level.Points.ToString(),
            level.Example is null ? level.Text : $"{level.Text} For example: {level.Example}."
        );

    private static string Number(Response response)
    {
        var text = $"{Words.OfNumber(response)}, {Words.Bounds(response)}";
        return response is { PlausibleLow: { } low, PlausibleHigh: { } high }
            ? $"{text}; below {low} or above {high}, look again."
            : text + ".";
    }

    private static void AddHelp(List<CardBlock> blocks, ProtocolTask task)
    {
        if (task.Help.Count > 0)
        {
            blocks.Add(Heading("Help, in this order"));
            blocks.AddRange(TaskViews.Rungs(task).Skip(1).Select(r => Item(r.Digit, r.Text)));
        }
        else if (task.Responses.Count > 0)
        {
            blocks.Add(Line("Help", "none on this task."));
        }
    }

    /// <summary>Cautions that cover what the task touches or uses; those of its rungs of help too.</summary>
    private static IEnumerable<string> CautionsOf(ProtocolTask task, Protocol protocol)
    {
        var contacts = task
            .Help.Select(h => h.Contact)
            .Append(task.Contact)
            .Where(c => c != Contact.None)
            .ToHashSet();
        var materials = task.Materials.Select(m => m.Name).ToHashSet(StringComparer.Ordinal);
        var own = protocol.Cautions.Where(c =>
            c.Contacts.Any(contacts.Contains) || c.Materials.Any(materials.Contains)
        );
        var texts = own.Select(c => c.Text);
        return contacts.Count > 0 ? texts.Prepend(Duties.Agreement.In(protocol)) : texts;
    }
}
