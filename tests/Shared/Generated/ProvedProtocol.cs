using System.Globalization;
using System.Text;

namespace ProtocolKit.TestPrograms;

/// <summary>
/// A protocol that asks everything of the proof: sections of twenty rated tasks, each with a sign to look for; stop rules, skips,
/// start points; totals scaled up at two levels; a score of signs; cut-offs for eight ages; four actions; five claims. Every number
/// follows from the task's place, so all runs see one text. Invented; for no child.
/// </summary>
internal static class ProvedProtocol
{
    public const int TasksInSection = 20;
    private const int Years = 8;

    /// <param name="tasks">A multiple of <see cref="TasksInSection"/>.</param>
    public static string Write(int tasks)
    {
        var text = new StringBuilder();
        var sections = tasks / TasksInSection;
        text.Append(
            "language 1\nprotocol proved\n  title \"Generated\"\n  edition 1.0\n  ages 4;0 to 11;11\n"
                + "scale movement, higher is better\n  2 \"Full.\"\n  1 \"Partly.\"\n  0 \"Not.\"\n"
                + "observation overflow \"another part joins in\"\n"
        );
        for (var section = 0; section < sections; section++)
        {
            Section(text, section);
        }

        Totals(text, sections);
        Rules(text, tasks, sections);
        return text.ToString();
    }

    /// <summary>By turns: a stop rule, a start point with a stop rule under an order of difficulty, a skip, nothing.</summary>
    private static void Section(StringBuilder text, int section)
    {
        Line(text, $"section part-{section} \"Part {section}\"");
        switch (section % 4)
        {
            case 0:
                Line(text, "  stop after 4 tasks in a row rated 0");
                break;
            case 1:
                Line(text, "  order of difficulty \"invented\"");
                Line(text, $"  start at {Task(section, 4)} from 7;0");
                Line(text, "  go back until 2 in a row full");
                Line(text, "  stop after 3 tasks in a row rated 0");
                break;
            case 2:
                Line(text, $"  skip when {Task(section - 1, 0)} = 0, counts lowest");
                break;
        }

        for (var task = 0; task < TasksInSection; task++)
        {
            Line(text, $"  task {Task(section, task)}");
            Line(text, "    rate movement");
            Line(text, "    tick overflow");
        }
    }

    private static void Totals(StringBuilder text, int sections)
    {
        for (var section = 0; section < sections; section++)
        {
            Line(text, $"score part-{section}-total \"Part {section}\"");
            Line(text, $"  add up rate of every task in part-{section}");
            Line(text, "  untried scaled up, at most 2");
        }

        Line(text, "score total \"Total\"");
        Line(
            text,
            $"  add up ({string.Join(", ", Enumerable.Range(0, sections).Select(s => $"part-{s}-total"))})"
        );
        Line(text, "  untried scaled up, at most 1");
        for (var section = 0; section < sections; section++)
        {
            var signs = Enumerable
                .Range(0, TasksInSection)
                .Select(t => $"(if {Task(section, t)}.overflow is seen then 1 otherwise 0)");
            Line(text, $"score part-{section}-signs \"Signs {section}\"");
            Line(text, $"  = {string.Join(" + ", signs)}");
        }

        Line(text, "score signs \"Signs\"");
        Line(text, $"  = {string.Join(" + ", Enumerable.Range(0, sections).Select(s => $"part-{s}-signs"))}");
    }

    private static void Rules(StringBuilder text, int tasks, int sections)
    {
        for (var section = 0; section < sections; section++)
        {
            Table(text, $"part-{section}-total", y => (12 + y, 20 + y, 2 * TasksInSection), section % 4 < 2);
        }

        var most = 2 * tasks;
        Table(text, "total", y => (most * (40 + y) / 100, most * (55 + y) / 100, most), isRouted: true);
        Line(text, "cut-offs signs");
        Line(text, "  ages  look-further  look-again  as-expected");
        for (var year = 0; year < Years; year++)
        {
            var (again, further) = ((tasks / 4) - year, (tasks / 2) - year);
            Line(
                text,
                $"  {year + 4};0 to {year + 4};11  {further + 1} to {tasks}  {again + 1} to {further}  0 to {again}"
            );
        }

        Line(text, "  basis provisional \"invented\"");
        Line(text, "actions");
        Line(text, "  full-assessment \"Full assessment\" within 2 weeks");
        Line(text, "    when total is look-further");
        Line(text, "    when 3 or more bands are look-further");
        Line(text, "  complete \"Finish\" within 4 weeks, finish");
        Line(text, "    when any band is undecided or blocked");
        Line(text, "  screen-again \"Screen again\" within 12 weeks");
        Line(text, "    when 2 or more bands are look-again or worse");
        Line(text, "  no-action \"No action\"");
        Line(text, "    when no other action applies");
        Claims(text, sections);
    }

    private static void Claims(StringBuilder text, int sections)
    {
        Line(text, "claim \"a total of nothing is assessed in full\"");
        Line(text, "  when total = 0 then actions include full-assessment");
        Line(text, "claim \"a total to look further at never leaves with no action\"");
        Line(text, "  when total is look-further then actions exclude no-action");
        Line(text, "claim \"the first part is no more than the whole\"");
        Line(text, "  when part-0-total > 30 then total > 0");
        Line(text, "claim \"what is open is finished\"");
        Line(text, "  when any band is undecided then actions include complete");
        Line(text, "claim \"the last part to look further at is never passed over\"");
        Line(
            text,
            $"  when (part-{sections - 1}-total is look-further and part-0-total is look-further) then actions exclude no-action"
        );
    }

    private static void Table(
        StringBuilder text,
        string name,
        Func<int, (int Further, int Again, int Most)> limits,
        bool isRouted
    )
    {
        Line(text, $"cut-offs {name}");
        Line(text, "  ages  look-further  look-again  as-expected");
        for (var year = 0; year < Years; year++)
        {
            var (further, again, most) = limits(year);
            Line(
                text,
                $"  {year + 4};0 to {year + 4};11{(isRouted ? ", also with tasks left out" : "")}  0 to {further}  {further + 1} to {again}  {again + 1} to {most}"
            );
        }

        Line(text, "  basis provisional \"invented\"");
    }

    private static string Task(int section, int task) =>
        string.Create(CultureInfo.InvariantCulture, $"move-{section}-{task}");

    private static void Line(StringBuilder text, FormattableString line) =>
        text.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');

    private static void Line(StringBuilder text, string line) => text.Append(line).Append('\n');
}
