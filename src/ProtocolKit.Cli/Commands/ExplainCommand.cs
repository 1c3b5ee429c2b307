using System.CommandLine;
using ProtocolKit.Cli.Reporting;
using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>explain CODE</c>: the page of a finding; without a code, the list.</summary>
internal static class ExplainCommand
{
    public static Command Create(Terminal terminal)
    {
        var code = new Argument<string?>("code")
        {
            Description = "The code of a finding, such as PK4005.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var command = new Command(
            "explain",
            "Explains a finding with a wrong and a right example; without a code, lists all.\n\nExample:\n  protocolkit explain PK4005"
        )
        {
            code,
        };
        command.SetAction(parsed => Run(parsed.GetValue(code), terminal));
        return command;
    }

    private static int Run(string? code, Terminal terminal)
    {
        if (code is null)
        {
            foreach (var entry in Catalogue.All)
            {
                terminal.Say($"{entry.Code}  {DiagnosticText.Word(entry.Severity), -8} {entry.Title}");
            }

            return ExitCode.Done;
        }

        if (Catalogue.Find(code) is not { } found)
        {
            terminal.Tell($"There is no finding {code}. Without a code, explain lists them all.");
            return ExitCode.WrongUse;
        }

        terminal.Say($"{found.Code}: {found.Title} ({DiagnosticText.Word(found.Severity)})");
        terminal.Say();
        terminal.Say(FindingPage.Text(found));
        return ExitCode.Done;
    }
}
