using System.CommandLine;
using ProtocolKit.Cli.Reporting;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>check FILE…</c>: what is wrong in the text, where, and what to write instead.</summary>
internal static class CheckCommand
{
    public static Command Create(Terminal terminal)
    {
        var files = new Argument<string[]>("files")
        {
            Description = "The protocols to check; - reads standard input.",
            Arity = ArgumentArity.OneOrMore,
        };
        var format = new Option<string>("--format")
        {
            Description = "text, json, sarif (SARIF 2.1.0) or github (annotations of a workflow).",
            DefaultValueFactory = _ => "text",
        };
        format.AcceptOnlyFromAmong("text", "json", "sarif", "github");
        var command = new Command(
            "check",
            "Checks protocols, shows every mistake in its line, and proves what holds for every possible record.\n\nExample:\n  protocolkit check library/quillmere/quillmere-screen.protocol"
        )
        {
            files,
            format,
        };
        command.SetAction(parsed => Run(parsed.GetValue(files)!, parsed.GetValue(format)!, terminal));
        return command;
    }

    private static int Run(string[] paths, string format, Terminal terminal)
    {
        var opened = new List<ProtocolFile>();
        var isMissing = false;
        foreach (var path in paths)
        {
            try
            {
                opened.AddRange(
                    path == "-"
                        ? [ProtocolFile.OfInput(terminal.ReadInput())]
                        : ProtocolFile.Open(path).WithTranslations()
                );
            }
            catch (FileProblemException problem)
            {
                // The other files are checked all the same.
                terminal.Tell(problem.Message);
                isMissing = true;
            }
        }

        opened = [.. opened.Select(f => f.Prove())];
        Print(opened, format, terminal);
        return isMissing || opened.Exists(f => f.Compilation.HasErrors) ? ExitCode.HasErrors : ExitCode.Done;
    }

    private static void Print(List<ProtocolFile> files, string format, Terminal terminal)
    {
        switch (format)
        {
            case "json":
                terminal.Say(DiagnosticJson.Render(files));
                break;
            case "sarif":
                terminal.Say(DiagnosticSarif.Render(files));
                break;
            case "github" when files.Exists(f => f.Compilation.Diagnostics.Count > 0):
                terminal.Say(DiagnosticAnnotations.Render(files));
                break;
            case "text":
                files.ForEach(f => CheckReport.Print(f, terminal));
                break;
        }
    }
}
