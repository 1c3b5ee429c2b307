using System.CommandLine;
using ProtocolKit.Calibration.Studies;
using ProtocolKit.Cli.Reporting;
using ProtocolKit.Emit;
using ProtocolKit.Model;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>study KIND FILE DATA</c>: evidence from pilot records, as a report and as text to paste.</summary>
internal static class StudyCommand
{
    private static readonly Argument<string> Kind = new("kind")
    {
        Description = "agreement, items, cut-offs, norms or change.",
    };

    private static readonly Argument<string> Protocol = new("file") { Description = "The protocol." };

    private static readonly Argument<string> Data = new("data")
    {
        Description =
            "Records: a CSV table with a row each, or a folder of YAML or JSON files. A table may have columns reference, reference-blind, reference-by, borderline, minutes, sex, group and site besides the record’s own.",
    };

    private static readonly Option<string?> Folder = new("--output", "-o")
    {
        Description =
            "Folder for the report (page, PDF, tables, JSON). Without it only a summary is printed.",
    };

    private static readonly Option<string[]> Scores = new("--score")
    {
        Description =
            "Measures or scores, by commas; without it those that the protocol bands and that are totals.",
        CustomParser = result =>
            [.. result.Tokens.SelectMany(t => t.Value.Split(',', StringSplitOptions.RemoveEmptyEntries))],
        AllowMultipleArgumentsPerToken = true,
    };

    private static readonly Option<string?> Reference = new("--reference")
    {
        Description = "A table of reference judgements by case, for records in a folder.",
    };

    private static readonly Option<string?> Judges = new("--judges")
    {
        Description =
            "A table of what judges expect of a child just at the edge, for Angoff’s and Hofstee’s cuts.",
    };

    private static readonly Option<double> Confidence = Number(
        "--confidence",
        "Of intervals, from 0.5 to 0.999.",
        0.95
    );
    private static readonly Option<double> Prevalence = Number(
        "--prevalence",
        "Share of children who need help where the screen is used.",
        0.1
    );
    private static readonly Option<double> Sensitivity = Number(
        "--sensitivity",
        "The least sensitivity a cut should keep.",
        0.9
    );
    private static readonly Option<double> MissCost = Number(
        "--miss-cost",
        "How many false alarms one missed child is worth.",
        5
    );

    private static readonly Option<int> Resamples = new("--resamples")
    {
        Description = "Bootstrap resamples.",
        DefaultValueFactory = _ => 2000,
    };

    private static readonly Option<ulong> Seed = new("--seed")
    {
        Description = "The same seed gives the same report.",
        DefaultValueFactory = _ => 1,
    };

    /// <summary>One line for each kind, with the option that is most its own.</summary>
    private static readonly string Examples = string.Join(
        '\n',
        new[]
        {
            "agreement FILES --weights \"1 0.5 0; 0.5 1 0.5; 0 0.5 1\" -o evidence",
            "items FILES --score jaw-total,lips-total",
            "cut-offs FILES --prevalence 0.07 --judges library/quillmere/pilot/judges.csv -o evidence",
            "norms FILES --by sex -o evidence",
            "change FILES --confidence 0.9 -o evidence",
        }.Select(e =>
            "  protocolkit study "
            + e.Replace(
                "FILES",
                "library/quillmere/quillmere-screen.protocol library/quillmere/pilot/pilot.csv",
                StringComparison.Ordinal
            )
        )
    );

    private static readonly Option<string?> Weights = new("--weights")
    {
        Description =
            "Agreement: weights of your own for kappa, rows from the lowest level: \"1 0.5 0; 0.5 1 0.5; 0 0.5 1\".",
    };

    private static readonly Option<int> Threads = new("--threads")
    {
        Description = "How many threads may resample; the report is the same to the byte with any number.",
        DefaultValueFactory = _ => Math.Min(Environment.ProcessorCount, 8),
    };

    private static readonly Option<string?> By = new("--by")
    {
        Description = "Norms apart for each value of a column: sex, group or site.",
    };

    private static readonly Option<string> Paper = new("--paper")
    {
        Description = "a4 or letter.",
        DefaultValueFactory = _ => "a4",
    };

    private static readonly AcceptedRecords Accepted = new();

    public static Command Create(Terminal terminal)
    {
        Kind.AcceptOnlyFromAmong([.. StudyRunner.Kinds]);
        Paper.AcceptOnlyFromAmong("a4", "letter");
        var command = new Command(
            "study",
            "Evidence from pilot records: how examiners agree, how tasks and cut-offs do, norms, and what a change means.\n\nExamples:\n"
                + Examples
        )
        {
            Kind,
            Protocol,
            Data,
            Folder,
            Scores,
            Reference,
            Judges,
            By,
            Weights,
            Confidence,
            Prevalence,
            Sensitivity,
            MissCost,
            Resamples,
            Seed,
            Threads,
            Paper,
        };
        Accepted.AddTo(command);
        command.SetAction(parsed => Run(parsed, terminal));
        return command;
    }

    private static int Run(ParseResult parsed, Terminal terminal)
    {
        var (weights, badWeights) = KappaWeights.Read(parsed.GetValue(Weights));
        var options = Options(parsed) with { KappaWeights = weights };
        if ((badWeights ?? Wrong(options)) is { } wrong)
        {
            terminal.Tell(wrong);
            return ExitCode.WrongUse;
        }

        var file = ProtocolFile.Open(parsed.GetValue(Protocol)!);
        if (file.Compilation.Protocol is not { } protocol)
        {
            CheckReport.Findings(file, terminal with { Output = terminal.Messages });
            terminal.Tell($"{file.Source.Name} has errors; nothing was studied.");
            return ExitCode.HasErrors;
        }

        try
        {
            var data = StudyReader.Read(
                protocol,
                parsed.GetValue(Data)!,
                parsed.GetValue(Reference),
                Accepted.Of(parsed)
            );
            data = parsed.GetValue(Judges) is { } judges ? JudgesReader.Add(data, judges) : data;
            StudySummary.TellLeftOut(data, terminal);
            var (report, refused) = StudyRunner.Run(
                file,
                parsed.GetValue(Kind)!,
                data,
                options,
                StudyProgress.Of(terminal)
            );
            StudySummary.Say(report, terminal);
            refused.ToList().ForEach(terminal.Tell);
            if (parsed.GetValue(Folder) is { } folder)
            {
                Write(file, report, folder, parsed.GetValue(Paper)!, terminal);
            }
            else
            {
                terminal.Tell(
                    "For the whole report with its tables and pictures, name a folder: -o evidence"
                );
            }

            return data.LeftOut.Count > 0 || refused.Count > 0 ? ExitCode.HasErrors : ExitCode.Done;
        }
        catch (Exception bad) when (bad is StudyDataException or StudyRefusedException)
        {
            terminal.Tell(bad.Message);
            terminal.Tell("Nothing was studied.");
            return ExitCode.HasErrors;
        }
    }

    private static void Write(
        ProtocolFile file,
        StudyReport report,
        string folder,
        string paper,
        Terminal terminal
    )
    {
        var printed = new OutputOptions { Paper = paper == "letter" ? PaperSize.Letter : PaperSize.A4 };
        var result = StudyRunner.Write(file, report, printed, folder, printPdf: true);
        terminal.Say();
        foreach (var name in result.Files.Where(f => !f.Contains('/', StringComparison.Ordinal)))
        {
            terminal.Say(Path.Combine(folder, name));
        }

        var tables = result.Files.Count(f => f.Contains('/', StringComparison.Ordinal));
        terminal.Say(
            $"{Path.Combine(folder, "study-" + report.Kind)}: {CheckReport.Plural(tables, "table")} as CSV"
        );
        result.Remarks.ToList().ForEach(terminal.Tell);
    }

    private static StudyOptions Options(ParseResult parsed) =>
        new()
        {
            Scores = parsed.GetValue(Scores) ?? [],
            Confidence = parsed.GetValue(Confidence),
            Prevalence = parsed.GetValue(Prevalence),
            Sensitivity = parsed.GetValue(Sensitivity),
            MissCost = parsed.GetValue(MissCost),
            Resamples = parsed.GetValue(Resamples),
            Seed = parsed.GetValue(Seed),
            Threads = parsed.GetValue(Threads),
            By = parsed.GetValue(By),
        };

    private static string? Wrong(StudyOptions options) =>
        options.Confidence is not (>= 0.5 and <= 0.999)
            ? "--confidence takes a number from 0.5 to 0.999, such as 0.95."
        : options.Prevalence is not (> 0 and < 1)
            ? "--prevalence takes a number between 0 and 1, such as 0.1 for 10 of 100 children."
        : options.Sensitivity is not (> 0 and <= 1)
            ? "--sensitivity takes a number above 0 and up to 1, such as 0.9."
        : options.MissCost is not (> 0 and < 1e6) ? "--miss-cost takes a number above 0, such as 5."
        : options.Resamples is < 1 or > 1_000_000 ? "--resamples takes a number from 1 to 1000000."
        : options.Threads is < 1 or > 64 ? "--threads takes a number from 1 to 64."
        : null;

    private static Option<double> Number(string name, string description, double value) =>
        new(name) { Description = description, DefaultValueFactory = _ => value };
}
