using System.CommandLine;
using ProtocolKit.Cli.Reporting;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Code.Fhir;
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
        Description =
            "Filled records (YAML or JSON), - for one from standard input; or one table (CSV or Parquet), a row a record.",
        Arity = ArgumentArity.OneOrMore,
    };

    private static readonly Option<string> Format = new("--format")
    {
        Description =
            "text, json, csv or fhir: a Bundle of FHIR R4 with a QuestionnaireResponse and Observations.",
        DefaultValueFactory = _ => "text",
    };

    private static readonly Option<string?> Language = new("--language")
    {
        Description = "The records were taken with the translation into this language, as in de.",
    };

    private static readonly Option<string?> Output = new("--output", "-o")
    {
        Description =
            "The file the results of a table go to, CSV or, where it ends in .parquet, Parquet; its mistakes go beside it, into FILE.errors.csv.",
    };

    private static readonly AcceptedRecords Accepted = new();

    public static Command Create(Terminal terminal)
    {
        Format.AcceptOnlyFromAmong("text", "json", "csv", "fhir");
        var command = new Command(
            "score",
            "Scores filled records and explains every number.\n\nExample:\n"
                + "  protocolkit score library/quillmere/quillmere-screen.protocol library/quillmere/records/qc-0417.yaml\n\n"
                + "A table of any length, a row a record, columns named as in a record; rows with mistakes are listed and the rest is scored:\n"
                + "  protocolkit score library/quillmere/quillmere-screen.protocol table.csv -o results.csv\n\n"
                + "A record carries the fingerprints of the form, administration and interpretation it was made with. Under another\n"
                + "interpretation it is scored, and that is said. Another form or administration is refused, unless you accept it by\n"
                + "its fingerprint:\n"
                + "  protocolkit score screen-2.protocol old.yaml --accept-form 0123456789abcdef"
        )
        {
            Protocol,
            Records,
            Format,
            Language,
            Output,
        };
        Accepted.AddTo(command);
        command.SetAction(parsed => Run(parsed, terminal));
        return command;
    }

    private static int Run(ParseResult parsed, Terminal terminal)
    {
        var file = ProtocolFile.Open(parsed.GetValue(Protocol)!).In(parsed.GetValue(Language));
        if (file.Compilation.Protocol is not { } protocol)
        {
            CheckReport.Findings(file, terminal with { Output = terminal.Messages });
            terminal.Tell($"{file.Source.Name} has errors; nothing was scored.");
            return ExitCode.HasErrors;
        }

        var options = Accepted.Of(parsed);
        var paths = parsed.GetValue(Records)!;
        var output = parsed.GetValue(Output);
        if (paths.Length == 1 && TableScore.IsTable(paths[0]))
        {
            return TableScore.Run(protocol, paths[0], output, options, terminal);
        }

        if (output is not null)
        {
            terminal.Tell(
                "-o is for one table (CSV or Parquet); results of single records go to standard output."
            );
            return ExitCode.WrongUse;
        }

        var scored = new List<ScoredRecord>();
        var refused = 0;
        foreach (var path in paths)
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

        try
        {
            Print(protocol, scored, parsed.GetValue(Format)!, terminal);
        }
        catch (OutputRefusedException e)
        {
            terminal.Tell(e.Message);
            return ExitCode.HasErrors;
        }

        var agree = AgreedHold(protocol, [.. scored.Select(s => s.Record)], terminal);
        return refused > 0 || !agree ? ExitCode.HasErrors : ExitCode.Done;
    }

    /// <summary>A record that two raters agreed on is held against its originals, where they are scored with it.</summary>
    private static bool AgreedHold(Protocol protocol, IReadOnlyList<SittingRecord> records, Terminal terminal)
    {
        var hold = true;
        foreach (var agreed in records.Where(r => r.AgreedFrom.Count > 0))
        {
            if (records.Count == 1)
            {
                terminal.Tell(
                    $"{agreed.Case} is an agreed record. Score it together with its two originals to hold it against them."
                );
                continue;
            }

            foreach (var problem in AgreedRecords.Check(protocol, agreed, records).Problems)
            {
                terminal.Tell($"{agreed.Case}, agreed record: {problem}");
                hold = false;
            }
        }

        return hold;
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
            case "fhir":
                terminal.Say(FhirRecord.Write(protocol, scored).TrimEnd('\n'));
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
