using System.Globalization;
using System.Text.RegularExpressions;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>Which tasks are given, in the words an examiner hears in the room.</summary>
internal static partial class GivingWords
{
    private static readonly string[] Small = ["no", "one", "two", "three", "four", "five", "six"];

    /// <summary>What holds for a whole section, to stand where it begins; empty where all its tasks are given.</summary>
    public static IReadOnlyList<string> OfSection(Protocol protocol, Section section)
    {
        var lines = new List<string>();
        foreach (var point in section.StartPoints)
        {
            lines.Add($"From age {point.From} start at {TitleOf(protocol, point.Task)}.");
        }

        if (section.StartPoints.Count > 0)
        {
            lines.Add(
                $"If the first {Tasks(section.GoBack)} {(section.GoBack == 1 ? "is" : "are")} not full, go back one task at a time until {Number(section.GoBack)} in a row {(section.GoBack == 1 ? "is" : "are")} full; leave the easier ones blank, they count in full."
            );
        }

        if (section.Stop is { } stop)
        {
            var row = stop.InARow == 1 ? "" : " in a row";
            var rest = section.IsByDifficulty
                ? "Leave the rest blank: it counts as the poorest."
                : "Leave the rest blank: it is left out.";
            lines.Add($"Stop this section after {Tasks(stop.InARow)}{row} rated {stop.Points}. {rest}");
        }

        lines.AddRange(section.Skips.Select(s => Skip("this section", s)));
        return lines;
    }

    /// <summary>When one task isn't given.</summary>
    public static IEnumerable<string> OfTask(ProtocolTask task) =>
        task.Skips.Select(s => Skip("this task", s));

    /// <summary>What an answer of the case history closes.</summary>
    public static IEnumerable<string> OfGates(Protocol protocol) =>
        protocol.History.SelectMany(q => q.Gates.Select(g => (q, g))).Select(p => OfGate(protocol, p.q, p.g));

    public static string OfGate(Protocol protocol, HistoryQuestion question, Gate gate)
    {
        var unless = protocol.History.FirstOrDefault(h => h.Name == gate.Unless);
        var but = unless is null ? "" : $", unless “{unless.Text}” is answered yes";
        return $"“{question.Text}” {(gate.OnYes ? "Yes" : "No")}: leave out {What(protocol, gate)}{but}. Left blank, they are not possible and never zero.";
    }

    /// <summary>What each event stops, and what must be written down.</summary>
    public static IEnumerable<string> OfEvents(Protocol protocol) =>
        protocol
            .Events.Where(e => e.Stops != WelfareStop.Nothing)
            .Select(e =>
                $"{e.Text.TrimEnd('.')}: stop, and circle “stopped for welfare” at {e.StopsWords}. Write what touched, how the child recovered and what you did."
            );

    private static string What(Protocol protocol, Gate gate)
    {
        var parts = gate
            .What.Split(", ")
            .Select(w =>
                w.EndsWith(" contact", StringComparison.Ordinal) ? $"all tasks with {w}"
                : protocol.Sections.FirstOrDefault(s => s.Name == w) is { } section
                    ? $"the section {section.Title}"
                : TitleOf(protocol, w)
            );
        return string.Join(", ", parts);
    }

    private static string Skip(string what, SkipRule rule)
    {
        var credit = rule.Credit switch
        {
            Credit.Lowest => "it counts as the poorest",
            Credit.Full => "it counts in full",
            _ => "it is left out",
        };
        return $"Skip {what} when {InnerHyphen().Replace(rule.Condition, " ")}; {credit}.";
    }

    /// <summary>A hyphen inside a name; a minus stands between spaces.</summary>
    [GeneratedRegex("(?<=[a-z0-9])-(?=[a-z0-9])", RegexOptions.CultureInvariant)]
    private static partial Regex InnerHyphen();

    private static string TitleOf(Protocol protocol, string task) =>
        protocol.Tasks.FirstOrDefault(t => t.Name == task)?.Title ?? Names.ToTitle(task);

    private static string Tasks(int count) => $"{Number(count)} {(count == 1 ? "task" : "tasks")}";

    private static string Number(int count) =>
        count < Small.Length ? Small[count] : count.ToString(CultureInfo.InvariantCulture);
}
