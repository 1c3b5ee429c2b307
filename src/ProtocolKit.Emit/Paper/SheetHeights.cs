using System.Globalization;

namespace ProtocolKit.Emit.Paper;

/// <summary>
/// How tall each task of the sheet becomes, estimated on the safe side with the sizes of
/// <c>record-sheet/style.css</c>. A task is never split, so one that is taller than a page is refused.
/// </summary>
internal static class SheetHeights
{
    private const double Size = 11;
    private const double Padding = 5;
    private const double Row = 12.7;
    private const double Box = 10.5;
    private const double BoxGap = 1.2;

    /// <summary>Between rows of boxes, so that twelve millimetres lie from one to the next.</summary>
    private const double RowGap = 1.8;
    private const double Codes = 28.5;
    private const double TrialLabel = 11.5;
    private const double NoteHeight = 12.2;
    private const double TickBoxes = 29;

    /// <exception cref="OutputRefusedException">A task is taller than a page; all such are named.</exception>
    public static void Check(SheetView view, PaperGeometry paper)
    {
        var tooTall = view
            .Tasks.Select(t => (Task: t, Parts: Parts(t, paper.ContentWidth)))
            .Where(t => t.Parts.Sum(p => p.Height) > paper.ContentHeight)
            .Select(t => Message(t.Task, t.Parts, paper))
            .ToList();
        if (tooTall.Count > 0)
        {
            throw new OutputRefusedException(
                "The record sheet can't be laid out. " + string.Join(" ", tooTall)
            );
        }
    }

    public static double Height(TaskView task, PaperGeometry paper) =>
        Parts(task, paper.ContentWidth).Sum(p => p.Height);

    private static string Message(
        TaskView task,
        IReadOnlyList<(string What, double Height)> parts,
        PaperGeometry paper
    )
    {
        var height = parts.Sum(p => p.Height);
        var title = task.Title.Length > 60 ? task.Title[..60] + "…" : task.Title;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Task {task.Number} \"{title}\" needs about {height:0} mm of a page's {paper.ContentHeight:0} mm, and a task is never split: shorten {parts.MaxBy(p => p.Height).What}."
        );
    }

    private static List<(string What, double Height)> Parts(TaskView task, double width)
    {
        var title = TextMeasure.Lines(task.Title, 12.5, width - Padding - 17 - Marks(task), bold: true);
        return
        [
            ("its title", TextMeasure.Height(title, 12.5) + 3),
            (
                "the agreement and stop lines",
                task.Banner is { } b ? Text($"{b.Title}. {b.Text}", width - 6) + 5 : 0
            ),
            (
                "the title of its section",
                task.Heading is { } h
                    ? TextMeasure.Height(TextMeasure.Lines(h, 13, width, true), 13) + 1.5
                    : 0
            ),
            (
                "its materials, or the names of its sides or words",
                task.Rule.Length > 0 ? Text(task.Rule, width - Padding) + 1.5 : 0
            ),
            .. task.Layout == "pair" ? PairParts(task, width) : SingleParts(task, width),
            ("its space", 6),
        ];
    }

    private static double Marks(TaskView task) =>
        TextMeasure.Width(task.Contact, Size, bold: true)
        + 3
        + (task.InShortForm ? TextMeasure.Width("short form", Size) + 3 : 0);

    private static List<(string, double)> PairParts(TaskView task, double width)
    {
        var column = (width / 2) - Padding;
        var rows = task.Parts.Chunk(2).ToList();
        return
        [
            ("the texts of its levels", Levels(task, width - Padding)),
            ("its help", task.Rungs.Count > 0 ? Rungs(task, width - Padding) + 1.6 : 0),
            (
                "the names of its sides, places, sounds or words",
                rows.Sum(r => r.Max(p => PartTitle(p, task, column)))
            ),
            ("its trials and answers", rows.Sum(r => r.Max(p => Trials(p, column)))),
            ("its ticks", rows.Sum(r => r.Max(p => Ticks(p, column)))),
            ("the label of its note", Math.Max(NoteHeight, Text(task.NoteLabel, width - Padding) + 1.6)),
        ];
    }

    private static List<(string, double)> SingleParts(TaskView task, double width)
    {
        var part = task.Parts[0];
        var aside =
            task.Layout != "single" ? 44
            : task.OnlyOptions ? 62
            : 84;
        var main = width - aside - Padding;
        List<(string What, double Height)> answers =
        [
            ("the texts of its levels", Levels(task, main)),
            ("its trials and answers", Trials(part, main)),
            ("its help", part.HasHelp ? Math.Max(12.2, Rungs(task, main) + 1.2) : 0),
        ];
        var note = Math.Max(
            NoteHeight,
            Text(task.NoteLabel, (task.Layout == "single" ? main : aside) - Padding) + 1.6
        );
        if (task.Layout == "ticks")
        {
            return [("its ticks", Math.Max(note, TickPairs(part, (main - 5) / 2)))];
        }

        if (task.Layout == "single")
        {
            answers.Add(("the label of its note", note));
        }

        var beside = task.Layout == "single" ? Ticks(part, aside - Padding) : note;
        return answers.Sum(a => a.Height) >= beside ? answers
            : task.Layout == "single" ? [("its ticks", beside)]
            : [("the label of its note", beside)];
    }

    private static double Text(string text, double width) =>
        TextMeasure.Height(TextMeasure.Lines(text, Size, width), Size);

    private static double Levels(TaskView task, double width) =>
        task.Scales.Sum(s =>
            Items([s.Label ?? "", .. s.Levels.Select(l => $"{l.Points} {l.Text}")], width) + 1.9
        );

    private static double Rungs(TaskView task, double width) =>
        Items(["Help used:", .. task.Rungs.Select(r => $"{r.Digit} {r.Text}")], width) * 1.2;

    private static double Items(IEnumerable<string> texts, double width)
    {
        var boxes = texts.Where(t => t.Length > 0).Select(t => Item(t, width));
        return FlowBox.HeightOf(boxes, width, 5, 0.6);
    }

    private static FlowBox Item(string text, double width) =>
        new(Math.Min(width, TextMeasure.Width(text, Size) + 1), Text(text, width));

    private static double Trials(PartView part, double width) => part.Trials.Sum(t => Trial(t, width));

    private static double Trial(TrialView trial, double width)
    {
        var room = width - Codes - 2 - (trial.Label is null ? 0 : TrialLabel);
        var answers = FlowBox.HeightOf(trial.Answers.Select(a => Answer(a, room)), room, 5, RowGap);
        return Math.Max(Row, answers + 2.3);
    }

    private static FlowBox Answer(AnswerView answer, double room)
    {
        var label = answer.Label ?? "";
        var boxes = answer.Boxes.Select(b => Single(answer, b)).ToList();
        if (answer.Kind == "options")
        {
            return new(room, Options(answer, room));
        }

        var labelWidth = Math.Min(TextMeasure.Width(label, Size) + 2, answer.Kind == "rating" ? room : 42);
        List<FlowBox> all = [.. boxes];
        if (label.Length > 0)
        {
            all.Insert(0, new(labelWidth, Text(label, labelWidth)));
        }

        if (answer.Unit is { } unit)
        {
            all.Add(new(TextMeasure.Width(unit, Size), 5));
        }

        return new(
            Math.Min(room, all.Sum(b => b.Width + BoxGap)),
            FlowBox.HeightOf(all, room, BoxGap, RowGap)
        );
    }

    private static FlowBox Single(AnswerView answer, BoxView box) =>
        answer.Kind switch
        {
            "direction" => new(15, Box),
            "free" => new(32, Box),
            _ => new(Box + (box.Point ? 3 : 0), Box),
        };

    /// <summary>Options stand in as many columns of 40 mm as there is room for.</summary>
    private static double Options(AnswerView answer, double room)
    {
        var columns = Math.Max(1, (int)((room + 4) / 44));
        var text = ((room + 4) / columns) - 4 - Box - 1.5;
        var rows = answer
            .Boxes.Chunk(columns)
            .Select(row => row.Max(b => Math.Max(11, Text(b.Text, text))) + 1.2);
        return rows.Sum() + (answer.Label is { } label ? Text(label, room) : 0);
    }

    private static double PartTitle(PartView part, TaskView task, double column)
    {
        var help = part.HasHelp ? 10 + (8.5 * task.Rungs.Count) : 0;
        var rungs = part.HasHelp ? Math.Max(12.2, 6 * Math.Ceiling(help / (column * 0.6))) : 0;
        return Math.Max(Math.Max(8.5, rungs), Text(part.Title, column - 11 - Math.Min(help, column * 0.6)))
            + 0.8;
    }

    private static double Ticks(PartView part, double width) =>
        part.Ticks.Count == 0 ? 0 : 7 + part.Ticks.Sum(t => Tick(t, width));

    private static double TickPairs(PartView part, double width) =>
        7 + part.Ticks.Chunk(2).Sum(row => row.Max(t => Tick(t, width)));

    private static double Tick(TickView tick, double width) =>
        Math.Max(12.2, Text(tick.Text, width - TickBoxes) + 1.6);
}
