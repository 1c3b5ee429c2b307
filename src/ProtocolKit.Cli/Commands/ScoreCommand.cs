using System.CommandLine;
using ProtocolKit.Cli.Reporting;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>score FILE RECORD…</c>: every number of a filled record, explained.</summary>
internal static class ScoreCommand
{
    private static readonly Argument<string> Protocol = new("file") { Description = "The protocol." };

    private static readonly Argument<string[]> Records = new("records")
    {
        Description = "Filled records (YAML or JSON); - reads one from standard input.",
        Arity = ArgumentArity.OneOrMore,
    };

    private static readonly Option<string> Format = new("--format")
    {
        Description = "text, json or csv.",
        DefaultValueFactory = _ => "text",
    };

    private static readonly Option<bool> OtherForm = new("--allow-other-form")
    {
        Description = "Score a record taken with another form, administration or edition, and say so.",
    };

    public static Command Create(Terminal terminal)
    {
        Format.AcceptOnlyFromAmong("text", "json", "csv");
        var command = new Command(
            "score",
            "Scores filled records and explains every number.\n\nExample:\n"
                + "  protocolkit score library/quillmere/quillmere-screen.protocol library/quillmere/records/qc-0417.yaml"
        )
        {
            Protocol,
            Records,
            Format,
            OtherForm,
        };
        command.SetAction(parsed => Run(parsed, terminal));
        return command;
    }

    private static int Run(ParseResult parsed, Terminal terminal)
    {
        var file = ProtocolFile.Open(parsed.GetValue(Protocol)!);
        if (file.Compilation.Protocol is not { } protocol)
        {
            CheckReport.Findings(file, terminal with { Output = terminal.Messages });
            terminal.Tell($"{file.Source.Name} has errors; nothing was scored.");
            return ExitCode.HasErrors;
        }

        var options = new RecordOptions { AllowOtherForm = parsed.GetValue(OtherForm) };
        var scored = new List<ScoredRecord>();
        var refused = 0;
        foreach (var path in parsed.GetValue(Records)!)
        {
            var reading = RecordReader.Read(
                TextOf(path),
                path == "-" ? "standard input" : Path.GetFileName(path),
                protocol,
                options
            );
            if (reading.Record is { } record)
            {
                scored.Add(Scorer.Score(protocol, record));
            }
            else
            {
                refused++;
                Refuse(reading, terminal);
            }
        }

        Print(protocol, scored, parsed.GetValue(Format)!, terminal);
        return refused > 0 ? ExitCode.HasErrors : ExitCode.Done;
    }

    private static string TextOf(string path) => path == "-" ? Console.In.ReadToEnd() : TextFile.Read(path);

    private static void Refuse(RecordReading reading, Terminal terminal)
    {
        foreach (var problem in reading.Problems)
        {
            terminal.Tell(problem.ToString());
        }

        terminal.Tell(
            $"{CheckReport.Plural(reading.Problems.Count, "problem")}: this record was not scored."
        );
    }

    private static void Print(Protocol protocol, List<ScoredRecord> scored, string format, Terminal terminal)
    {
        switch (format)
        {
            case "csv":
                terminal.Say(ResultTable.Header(protocol).TrimEnd('\n'));
                scored.ForEach(s => terminal.Say(ResultTable.Row(s).TrimEnd('\n')));
                break;
            case "json":
                var all = scored.Select(s => ExplanationJson.Write(Explanation.Of(s)).TrimEnd('\n'));
                terminal.Say("[" + string.Join(",\n", all) + "]");
                break;
            default:
                terminal.Say(
                    string.Join(
                        "\n\n",
                        scored.Select(s => ExplanationText.Write(Explanation.Of(s)).TrimEnd('\n'))
                    )
                );
                break;
        }
    }
}
