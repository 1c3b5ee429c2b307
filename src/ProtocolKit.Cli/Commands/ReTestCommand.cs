using System.CommandLine;
using ProtocolKit.Emit;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Files;
using ProtocolKit.Workspace.Reports;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>retest FILE RECORD RECORD…</c>: what changed between sittings, beyond measurement error or not.</summary>
internal static class ReTestCommand
{
    private static readonly Argument<string> Protocol = new("file") { Description = "The protocol." };

    private static readonly Argument<string[]> Records = new("records")
    {
        Description = "Two or more records of one child, in any order; or a folder of them.",
        Arity = ArgumentArity.OneOrMore,
    };

    private static readonly Option<string?> Folder = new("--output", "-o")
    {
        Description = "Write a page with plots into this folder too.",
    };

    private static readonly Option<string?> Language = new("--language")
    {
        Description = "The records were taken with the translation into this language, as in de.",
    };

    private static readonly Option<string> Paper = new("--paper")
    {
        Description = "a4 or letter.",
        DefaultValueFactory = _ => "a4",
    };

    private static readonly Option<bool> NoPdf = new("--no-pdf")
    {
        Description = "HTML only, even where a browser could print.",
    };

    private static readonly AcceptedRecords Accepted = new();

    public static Command Create(Terminal terminal)
    {
        Paper.AcceptOnlyFromAmong("a4", "letter");
        var command = new Command(
            "retest",
            "Says what changed between sittings of one child: beyond the error of measurement, within it, or it can't be said.\n\n"
                + "Example:\n"
                + "  protocolkit retest library/quillmere/quillmere-screen.protocol march.yaml june.yaml -o reports\n\n"
                + "A change is beyond the error when it is larger than 1.96 times the root of 2 times the standard error the protocol names."
        )
        {
            Protocol,
            Records,
            Folder,
            Language,
            Paper,
            NoPdf,
        };
        Accepted.AddTo(command);
        command.SetAction(parsed => Run(parsed, terminal));
        return command;
    }

    private static int Run(ParseResult parsed, Terminal terminal)
    {
        if (
            SittingFiles.Open(
                parsed.GetValue(Protocol)!,
                parsed.GetValue(Language),
                "nothing was compared",
                terminal
            )
            is not { } file
        )
        {
            return ExitCode.HasErrors;
        }

        var (scored, all) = SittingFiles.Score(
            file.Compilation.Protocol!,
            parsed.GetValue(Records)!,
            Accepted.Of(parsed),
            terminal
        );
        var sittings = scored
            .OrderBy(s => s.Record.Seen.Count > 0 ? s.Record.Seen[0] : DateOnly.MinValue)
            .ToList();
        if (!all || WhyNot(sittings) is { Length: > 0 })
        {
            terminal.Tell(all ? WhyNot(sittings) : "Nothing was compared.");
            return ExitCode.HasErrors;
        }

        var report = ReTestReports.Of(sittings);
        Say(report, terminal);
        if (parsed.GetValue(Folder) is { } folder)
        {
            Write(parsed, file, report, folder, terminal);
        }

        return ExitCode.Done;
    }

    private static string WhyNot(IReadOnlyList<ScoredRecord> sittings)
    {
        var cases = sittings.Select(s => s.Record.Case).Distinct(StringComparer.Ordinal).ToList();
        return cases.Count > 1 ? $"These are records of different children: {string.Join(", ", cases)}."
            : sittings.Count < 2 ? "Two records of one child are needed."
            : sittings.Any(s => s.Record.Seen.Count == 0) ? "A record without a day can't be compared."
            : sittings.Select(s => s.Record.Seen[0]).Distinct().Count() < sittings.Count
                ? "Two of these records are of the same day: name each sitting once."
            : "";
    }

    private static void Say(ReTestReport report, Terminal terminal)
    {
        terminal.Say($"{report.Protocol.Title}, edition {report.Protocol.Edition}. Case {report.Case}.");
        terminal.Say($"Sittings: {string.Join("; ", report.Sittings.Select(s => $"{s.Name} ({s.Text})"))}.");
        if (report.Values.Count == 0)
        {
            terminal.Say();
            terminal.Say(
                "This protocol names no error of measurement (re-test), so nothing can be said of any change."
            );
        }

        foreach (var value in report.Values)
        {
            terminal.Say();
            terminal.Say(value.ReTest.Outcome.Title);
            foreach (var answer in value.Answers)
            {
                terminal.Say(
                    $"  {report.Sittings[answer.From].Name} to {report.Sittings[answer.To].Name}: {answer.Says}"
                );
            }

            terminal.Say($"  {value.Basis}");
        }

        report.Remarks.ToList().ForEach(terminal.Tell);
        terminal.Say();
        terminal.Say(
            "A screen makes no diagnosis; local rules and the judgement of the licensed clinician come first."
        );
    }

    private static void Write(
        ParseResult parsed,
        ProtocolFile file,
        ReTestReport report,
        string folder,
        Terminal terminal
    )
    {
        var options = new OutputOptions
        {
            Paper = parsed.GetValue(Paper) == "letter" ? PaperSize.Letter : PaperSize.A4,
            Style = TeamSettings.Beside(file.Path),
        };
        terminal.Say();
        WrittenFiles.Say(
            ReportWriter.Write(file, report, options, folder, !parsed.GetValue(NoPdf)),
            folder,
            terminal
        );
    }
}
