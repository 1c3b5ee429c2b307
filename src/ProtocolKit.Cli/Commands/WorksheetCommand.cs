using System.CommandLine;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Worksheets;
using ProtocolKit.Model;
using ProtocolKit.Proof;
using ProtocolKit.Verification;
using ProtocolKit.Workspace.Files;
using ProtocolKit.Workspace.Worksheets;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>worksheet FILE</c>: practice cases with blank sheets and a separate reasoned key.</summary>
internal static class WorksheetCommand
{
    private const int MostCases = 500;

    private static readonly Argument<string> Protocol = new("file") { Description = "The protocol." };

    private static readonly Option<string> Kind = new("--kind")
    {
        Description =
            "rate (from a description), total (and band), slip (find it), age (work it out), or raters (compare two).",
        DefaultValueFactory = _ => "total",
    };

    private static readonly Option<int> Cases = new("--cases")
    {
        Description = $"How many cases, up to {MostCases}.",
        DefaultValueFactory = _ => 6,
    };

    private static readonly Option<ulong> Seed = new("--seed")
    {
        Description = "The same seed gives the same sheets.",
        DefaultValueFactory = _ => 1,
    };

    private static readonly Option<string> Folder = new("--output", "-o")
    {
        Description = "The folder to write into.",
        DefaultValueFactory = _ => "worksheets",
    };

    private static readonly Option<string> Paper = new("--paper")
    {
        Description = "a4 or letter.",
        DefaultValueFactory = _ => "a4",
    };

    private static readonly Option<string?> Language = new("--language")
    {
        Description =
            "Practise with the translation into this language that stands beside the protocol, as in de.",
    };

    private static readonly Option<bool> ShortForm = new("--short-form")
    {
        Description = "Cases of the short form, with its own cut-offs.",
    };

    private static readonly Option<bool> NoPdf = new("--no-pdf")
    {
        Description = "HTML only, even where a browser could print.",
    };

    public static Command Create(Terminal terminal)
    {
        Paper.AcceptOnlyFromAmong("a4", "letter");
        Kind.AcceptOnlyFromAmong([.. Enum.GetValues<WorksheetKind>().Select(WorksheetPages.Name)]);
        var command = new Command(
            "worksheet",
            "Writes invented cases for students, with room for answers, and a separate key with the rule at every step.\n\nExamples:\n"
                + "  protocolkit worksheet library/quillmere/quillmere-screen.protocol --kind total --cases 30 --seed 7\n"
                + "  protocolkit worksheet library/quillmere/quillmere-screen.protocol --kind rate -o practice\n\n"
                + "Cases are drawn exactly: of all records that come to a band or a limit, each is equally likely. Descriptions to rate\n"
                + "come from NAME.vignettes.yaml beside the protocol, NAME.de.vignettes.yaml for a translation: at least four wordings a\n"
                + "level, in other words than the level's own."
        )
        {
            Protocol,
            Kind,
            Cases,
            Seed,
            Folder,
            Paper,
            Language,
            ShortForm,
            NoPdf,
        };
        command.SetAction(parsed => Run(parsed, terminal));
        return command;
    }

    private static int Run(ParseResult parsed, Terminal terminal)
    {
        var cases = parsed.GetValue(Cases);
        if (cases is < 1 or > MostCases)
        {
            terminal.Tell($"--cases is a number from 1 to {MostCases}.");
            return ExitCode.WrongUse;
        }

        var file = SittingFiles.Open(
            parsed.GetValue(Protocol)!,
            parsed.GetValue(Language),
            "nothing was written",
            terminal
        );
        if (file is null)
        {
            return ExitCode.HasErrors;
        }

        var shortForm = parsed.GetValue(ShortForm);
        if (shortForm && !file.Compilation.Protocol!.HasShortForm)
        {
            terminal.Tell("The protocol has no short form; nothing was written.");
            return ExitCode.HasErrors;
        }

        var kind = Enum.GetValues<WorksheetKind>()
            .First(k => WorksheetPages.Name(k) == parsed.GetValue(Kind));
        var progress = terminal.ProgressOf("cases");
        try
        {
            var sheet = WorksheetMaker.Make(
                file,
                kind,
                cases,
                parsed.GetValue(Seed),
                done => progress?.Report(new VerifyProgress(done, cases)),
                shortForm
            );
            var written = WorksheetMaker.Write(
                file,
                sheet,
                new OutputOptions
                {
                    Paper = parsed.GetValue(Paper) == "letter" ? PaperSize.Letter : PaperSize.A4,
                    Style = TeamSettings.Beside(file.Path),
                },
                parsed.GetValue(Folder)!,
                printPdf: !parsed.GetValue(NoPdf)
            );
            WrittenFiles.Say(written, parsed.GetValue(Folder)!, terminal);
            return ExitCode.Done;
        }
        catch (WorksheetRefusedException refused)
        {
            terminal.Tell(refused.Message);
            return ExitCode.HasErrors;
        }
        catch (ProofLimitException)
        {
            terminal.Tell(
                "This protocol has too many different records to draw them exactly; no worksheet was written."
            );
            return ExitCode.HasErrors;
        }
    }
}
