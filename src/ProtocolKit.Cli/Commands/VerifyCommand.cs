using System.CommandLine;
using ProtocolKit.Cli.Reporting;
using ProtocolKit.Verification;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>verify FILE</c>: runs every scoring target against the reference; says which agreed.</summary>
internal static class VerifyCommand
{
    private static readonly Argument<string> Protocol = new("file") { Description = "The protocol." };

    private static readonly Option<int> Records = new("--records")
    {
        Description = "How many random records, besides those at edges.",
        DefaultValueFactory = _ => 1000,
    };

    private static readonly Option<int> InForms = new("--form-records")
    {
        Description = "How many of all records the two FHIRPath engines are run on, at most; they are slow.",
        DefaultValueFactory = _ => 100,
    };

    private static readonly Option<int> InWorkbook = new("--workbook-records")
    {
        Description = "How many of all records the workbook is run on, at most.",
        DefaultValueFactory = _ => 2000,
    };

    private static readonly Option<ulong> Seed = new("--seed")
    {
        Description = "The same seed gives the same records.",
        DefaultValueFactory = _ => 1,
    };

    private static readonly Option<string[]> Targets = new("--targets")
    {
        Description =
            $"Only these, by commas, or the beginning of their names, such as sql: {string.Join(", ", Verifier.TargetNames)}.",
        CustomParser = result =>
            [.. result.Tokens.SelectMany(t => t.Value.Split(',', StringSplitOptions.RemoveEmptyEntries))],
        AllowMultipleArgumentsPerToken = true,
    };

    public static Command Create(Terminal terminal)
    {
        var command = new Command(
            "verify",
            "Runs the scoring code of every target against the reference, line by line.\n\nExample:\n"
                + "  protocolkit verify library/quillmere/quillmere-screen.protocol --records 1000"
        )
        {
            Protocol,
            Records,
            InForms,
            InWorkbook,
            Seed,
            Targets,
        };
        command.SetAction(parsed => Run(parsed, terminal));
        return command;
    }

    private static int Run(ParseResult parsed, Terminal terminal)
    {
        var records = parsed.GetValue(Records);
        if (records is < 0 or > 100_000_000)
        {
            terminal.Tell("--records takes a number from 0 to 100000000.");
            return ExitCode.WrongUse;
        }

        var unknown = Verifier.Unknown(parsed.GetValue(Targets) ?? []);
        if (unknown.Count > 0)
        {
            terminal.Tell(
                $"There is no target called {string.Join(" or ", unknown)}. There are: {string.Join(", ", Verifier.TargetNames)}."
            );
            return ExitCode.WrongUse;
        }

        var file = ProtocolFile.Open(parsed.GetValue(Protocol)!);
        if (file.Compilation.Protocol is not { } protocol)
        {
            CheckReport.Findings(file, terminal with { Output = terminal.Messages });
            terminal.Tell($"{file.Source.Name} has errors; nothing was verified.");
            return ExitCode.HasErrors;
        }

        var options = new VerifyOptions
        {
            Records = records,
            MostInForms = Math.Max(1, parsed.GetValue(InForms)),
            MostInWorkbook = Math.Max(1, parsed.GetValue(InWorkbook)),
            Seed = parsed.GetValue(Seed),
            Targets = parsed.GetValue(Targets) ?? [],
            Templates = TemplateFolder.Beside(file.Path),
            MissingIsWrong = Environment.GetEnvironmentVariable("CI") == "true",
        };
        var report = Verifier.Run(protocol, options, terminal.ProgressOf("records"));
        terminal.Say(VerifyText.Write(report).TrimEnd('\n'));
        return report.NothingWrong ? ExitCode.Done : ExitCode.HasErrors;
    }
}
