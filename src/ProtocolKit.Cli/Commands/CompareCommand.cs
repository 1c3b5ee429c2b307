using System.CommandLine;
using ProtocolKit.Cli.Reporting;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Comparing;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>compare OLD NEW</c>: what an edit changes, and for whom.</summary>
internal static class CompareCommand
{
    public static Command Create(Terminal terminal)
    {
        var old = new Argument<string>("old") { Description = "The earlier edition." };
        var edited = new Argument<string>("new") { Description = "The later edition." };
        var records = new Option<string[]>("--records")
        {
            Description =
                "Records of the earlier edition: files or folders. Says which change band or action.",
            AllowMultipleArgumentsPerToken = true,
            Arity = ArgumentArity.OneOrMore,
        };
        var format = new Option<string>("--format")
        {
            Description = "text or json.",
            DefaultValueFactory = _ => "text",
        };
        format.AcceptOnlyFromAmong("text", "json");
        var command = new Command(
            "compare",
            "Says what an edit changes in form, administration and interpretation, and which records change.\n\nExamples:\n"
                + "  protocolkit compare our-screen-1.protocol our-screen-2.protocol\n"
                + "  protocolkit compare our-screen-1.protocol our-screen-2.protocol --records records"
        )
        {
            old,
            edited,
            records,
            format,
        };
        command.SetAction(parsed =>
        {
            var files = new[] { parsed.GetValue(old)!, parsed.GetValue(edited)! }
                .Select(ProtocolFile.Open)
                .ToList();
            foreach (var file in files.Where(f => f.Compilation.HasErrors))
            {
                CheckReport.Findings(file, terminal with { Output = terminal.Messages });
                terminal.Tell($"{file.Source.Name} has errors; nothing was compared.");
            }

            if (files.Exists(f => f.Compilation.HasErrors))
            {
                return ExitCode.HasErrors;
            }

            var comparison = Comparison.Of(
                files[0].Compilation.Protocol!,
                files[1].Compilation.Protocol!,
                RecordFiles.Read(parsed.GetValue(records) ?? [])
            );
            terminal.Say(
                parsed.GetValue(format) == "json"
                    ? ComparisonJson.Write(comparison)
                    : ComparisonText.Write(comparison).TrimEnd('\n')
            );
            return ExitCode.Done;
        });
        return command;
    }
}
