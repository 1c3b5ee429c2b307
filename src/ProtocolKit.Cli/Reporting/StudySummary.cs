using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Cli.Reporting;

/// <summary>What a study says on a terminal: the data, what may and may not be concluded, and the text to paste.</summary>
internal static class StudySummary
{
    /// <summary>So many rows are named one by one.</summary>
    private const int MostNamed = 30;

    /// <summary>Rows and files that were not taken, each with its reason.</summary>
    public static void TellLeftOut(StudyData data, Terminal terminal)
    {
        data.Remarks.ToList().ForEach(terminal.Tell);
        foreach (var left in data.LeftOut.Take(MostNamed))
        {
            var place =
                left.Place.Line == 0
                    ? left.Place.File
                    : string.Create(
                        CultureInfo.InvariantCulture,
                        $"{left.Place.File}, row {left.Place.Line}"
                    );
            terminal.Tell($"{place}: {left.Why}");
        }

        if (data.LeftOut.Count > 0)
        {
            terminal.Tell(
                $"{CheckReport.Plural(data.LeftOut.Count, "problem")}"
                    + (data.LeftOut.Count > MostNamed ? $", the first {MostNamed} of them listed" : "")
                    + "; these records were left out, the rest was studied."
            );
        }
    }

    public static void Say(StudyReport report, Terminal terminal)
    {
        terminal.Say($"{report.Title}: {report.Protocol.Title}, edition {report.Protocol.Edition}");
        foreach (var fact in report.Data)
        {
            terminal.Say($"  {fact.Name}: {fact.Text}");
        }

        List("What may be concluded", report.May, terminal);
        List("What may not be concluded", report.MayNot, terminal);
        foreach (var block in report.Blocks)
        {
            terminal.Say();
            terminal.Say(
                "# "
                    + block.Title
                    + (block.Provisional.Length > 0 ? $". Provisional: {block.Provisional}" : "")
            );
            if (block.NotProved.Length > 0)
            {
                terminal.Say("# " + block.NotProved);
            }

            terminal.Say(block.Text.TrimEnd('\n'));
        }
    }

    private static void List(string title, IReadOnlyList<string> lines, Terminal terminal)
    {
        terminal.Say();
        terminal.Say(title);
        foreach (var line in lines)
        {
            terminal.Say("  - " + line);
        }
    }
}
