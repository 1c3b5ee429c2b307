using ProtocolKit.Cli.Reporting;
using ProtocolKit.Workspace.Reports;

namespace ProtocolKit.Cli.Commands;

/// <summary>The list of what was written, in columns, with what could not be and what to know.</summary>
internal static class WrittenFiles
{
    public static void Say(ReportResult written, string folder, Terminal terminal)
    {
        var width = written.Files.Select(f => f.Name.Length).DefaultIfEmpty().Max();
        foreach (var (name, purpose) in written.Files)
        {
            terminal.Say($"{name.PadRight(width)}  {purpose}");
        }

        foreach (var message in written.Refusals.Concat(written.Remarks))
        {
            terminal.Tell(message);
        }

        if (written.Files.Count > 0)
        {
            terminal.Say();
            terminal.Say($"{CheckReport.Plural(written.Files.Count, "file")} in {folder}.");
        }
    }
}
