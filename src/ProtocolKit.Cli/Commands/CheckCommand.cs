using System.CommandLine;
using ProtocolKit.Cli.Reporting;
using ProtocolKit.Workspace;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>check FILE…</c>: what is wrong in the text, where, and what to write instead.</summary>
internal static class CheckCommand
{
    public static Command Create(Terminal terminal)
    {
        var files = new Argument<string[]>("files")
        {
            Description = "The protocols to check.",
            Arity = ArgumentArity.OneOrMore,
        };
        var format = new Option<string>("--format")
        {
            Description = "text or json.",
            DefaultValueFactory = _ => "text",
        };
        format.AcceptOnlyFromAmong("text", "json");
        var command = new Command(
            "check",
            "Checks protocols and shows every mistake in its line.\n\nExample:\n  protocolkit check library/quillmere/quillmere-screen.protocol"
        )
        {
            files,
            format,
        };
        command.SetAction(parsed =>
        {
            var opened = parsed.GetValue(files)!.Select(ProtocolFile.Open).ToList();
            if (parsed.GetValue(format) == "json")
            {
                terminal.Say(DiagnosticJson.Render(opened));
            }
            else
            {
                opened.ForEach(f => CheckReport.Print(f, terminal));
            }

            return opened.Exists(f => f.Compilation.HasErrors) ? ExitCode.HasErrors : ExitCode.Done;
        });
        return command;
    }
}
