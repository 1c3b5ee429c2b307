using ProtocolKit.Cli.Reporting;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli.Commands;

/// <summary>Reads and scores the records a command was given; what is wrong with one is told, and the others go on.</summary>
internal static class SittingFiles
{
    /// <summary>The protocol, or nothing when its text has errors, which are told.</summary>
    public static ProtocolFile? Open(string path, string? language, string nothing, Terminal terminal)
    {
        var file = ProtocolFile.Open(path).In(language);
        if (file.Compilation.Protocol is not null)
        {
            return file;
        }

        CheckReport.Findings(file, terminal with { Output = terminal.Messages });
        terminal.Tell($"{file.Source.Name} has errors; {nothing}.");
        return null;
    }

    /// <param name="paths">Files, or folders of them.</param>
    /// <returns>The scored records, and whether all could be read.</returns>
    public static (IReadOnlyList<ScoredRecord> Scored, bool All) Score(
        Protocol protocol,
        IEnumerable<string> paths,
        RecordOptions options,
        Terminal terminal
    )
    {
        var scored = new List<ScoredRecord>();
        var all = true;
        foreach (var (name, text) in RecordFiles.Read(paths))
        {
            var reading = RecordReader.Read(text, name, protocol, options);
            if (reading.Record is { } record)
            {
                scored.Add(Scorer.Score(protocol, record));
                continue;
            }

            all = false;
            reading.Problems.ToList().ForEach(p => terminal.Tell(p.ToString()));
            terminal.Tell($"{name}: {CheckReport.Plural(reading.Problems.Count, "problem")}; left out.");
        }

        return (scored, all);
    }
}
