using System.CommandLine;
using ProtocolKit.Emit;
using ProtocolKit.Model;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Files;
using ProtocolKit.Workspace.Reports;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>report FILE RECORD…</c>: the team's note and the letter to the family.</summary>
internal static class ReportCommand
{
    private const int LongestName = 80;

    private static readonly Argument<string> Protocol = new("file") { Description = "The protocol." };

    private static readonly Argument<string[]> Records = new("records")
    {
        Description = "Filled records, or folders of them.",
        Arity = ArgumentArity.OneOrMore,
    };

    private static readonly Option<string> Folder = new("--output", "-o")
    {
        Description = "The folder to write into.",
        DefaultValueFactory = _ => "reports",
    };

    private static readonly Option<string?> Child = new("--child")
    {
        Description =
            "The child's name for the letter of one record. It goes into the letter and nowhere else.",
    };

    private static readonly Option<bool> Ask = new("--ask")
    {
        Description = "Ask for each child's name, so that it stays out of the shell's memory too.",
    };

    private static readonly Option<string[]> Earlier = new("--earlier")
    {
        Description =
            "Earlier records of the same children, for what changed since; they get no report of their own.",
        Arity = ArgumentArity.OneOrMore,
    };

    private static readonly Option<string?> Only = new("--only") { Description = "note or letter alone." };

    private static readonly Option<bool> TeamOnly = new("--team-only")
    {
        Description =
            "Put what is for the team alone into the note; it then says so, and stays in the house.",
    };

    private static readonly Option<string> Paper = new("--paper")
    {
        Description = "a4 or letter.",
        DefaultValueFactory = _ => "a4",
    };

    private static readonly Option<string?> Language = new("--language")
    {
        Description = "The records were taken with the translation into this language, as in de.",
    };

    private static readonly Option<bool> NoPdf = new("--no-pdf")
    {
        Description = "HTML only, even where a browser could print.",
    };

    private static readonly AcceptedRecords Accepted = new();

    public static Command Create(Terminal terminal)
    {
        Paper.AcceptOnlyFromAmong("a4", "letter");
        Only.AcceptOnlyFromAmong("note", "letter");
        var command = new Command(
            "report",
            "Writes the team's note and the letter to the family, for one record or a folder of them.\n\nExamples:\n"
                + "  protocolkit report library/quillmere/quillmere-screen.protocol library/quillmere/records/qc-0417.yaml -o reports\n"
                + "  protocolkit report our-screen.protocol records --earlier last-year --ask\n\n"
                + "Records hold no names. The name is asked for here, goes into the letter and is kept nowhere else: print the letter,\n"
                + "then delete it. Letterhead and ink are read from settings.yaml beside the protocol."
        )
        {
            Protocol,
            Records,
            Folder,
            Child,
            Ask,
            Earlier,
            Only,
            TeamOnly,
            Paper,
            Language,
            NoPdf,
        };
        Accepted.AddTo(command);
        command.SetAction(parsed => Run(parsed, terminal));
        return command;
    }

    private static int Run(ParseResult parsed, Terminal terminal)
    {
        if (WrongName(parsed.GetValue(Child)) is { } wrong)
        {
            terminal.Tell(wrong);
            return ExitCode.WrongUse;
        }

        if (
            SittingFiles.Open(
                parsed.GetValue(Protocol)!,
                parsed.GetValue(Language),
                "nothing was written",
                terminal
            )
            is not { } file
        )
        {
            return ExitCode.HasErrors;
        }

        var protocol = file.Compilation.Protocol!;
        var options = Accepted.Of(parsed);
        var (sittings, all) = SittingFiles.Score(protocol, parsed.GetValue(Records)!, options, terminal);
        var (earlier, allEarlier) = SittingFiles.Score(
            protocol,
            parsed.GetValue(Earlier) ?? [],
            options,
            terminal
        );
        if (parsed.GetValue(Child) is not null && sittings.Select(s => s.Record.Case).Distinct().Count() > 1)
        {
            terminal.Tell("--child names one child, and these are records of several. Use --ask instead.");
            return ExitCode.WrongUse;
        }

        var written = ReportWriter.Write(
            file,
            sittings,
            earlier,
            new ReportWishes(
                NamesOf(parsed, sittings, terminal),
                parsed.GetValue(Only) != "letter",
                parsed.GetValue(Only) != "note",
                parsed.GetValue(TeamOnly)
            ),
            new OutputOptions
            {
                Paper = parsed.GetValue(Paper) == "letter" ? PaperSize.Letter : PaperSize.A4,
                Style = TeamSettings.Beside(file.Path),
            },
            parsed.GetValue(Folder)!,
            printPdf: !parsed.GetValue(NoPdf)
        );
        WrittenFiles.Say(written, parsed.GetValue(Folder)!, terminal);
        return written.Refusals.Count > 0 || !all || !allEarlier ? ExitCode.HasErrors : ExitCode.Done;
    }

    /// <summary>Held in memory until the letters are written, and nowhere longer.</summary>
    private static Dictionary<string, string> NamesOf(
        ParseResult parsed,
        IReadOnlyList<ScoredRecord> sittings,
        Terminal terminal
    )
    {
        var names = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var code in sittings.Select(s => s.Record.Case).Distinct(StringComparer.Ordinal))
        {
            var name = parsed.GetValue(Child) ?? (parsed.GetValue(Ask) ? AskFor(code, terminal) : null);
            if (!string.IsNullOrWhiteSpace(name))
            {
                names[code] = name.Trim();
            }
        }

        if (names.Count > 0 && parsed.GetValue(Only) != "note")
        {
            terminal.Tell("The letters hold names: print them, hand them over, and delete them here.");
        }

        return names;
    }

    private static string? AskFor(string code, Terminal terminal)
    {
        while (true)
        {
            terminal.Messages.Write($"Name for the letter of case {code} (nothing: \"your child\"): ");
            var name = (terminal.Input ?? Console.In).ReadLine();
            if (WrongName(name) is not { } wrong)
            {
                return name;
            }

            terminal.Tell(wrong);
        }
    }

    private static string? WrongName(string? name) =>
        name is not null && (name.Length > LongestName || name.Any(char.IsControl))
            ? $"A name stands on one line and has at most {LongestName} characters."
            : null;
}
