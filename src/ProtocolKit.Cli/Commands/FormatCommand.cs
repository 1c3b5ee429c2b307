using System.CommandLine;
using ProtocolKit.Language;
using ProtocolKit.Language.Formatting;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>format FILE…</c>: rewrites in the one layout; <c>--check</c> only tells.</summary>
internal static class FormatCommand
{
    public static Command Create(Terminal terminal)
    {
        var files = new Argument<string[]>("files")
        {
            Description = "Protocols or modules.",
            Arity = ArgumentArity.OneOrMore,
        };
        var check = new Option<bool>("--check")
        {
            Description = "Change nothing; say which files would change.",
        };
        var command = new Command(
            "format",
            "Rewrites indentation and line ends in the one layout.\n\nExample:\n  protocolkit format --check library/quillmere/quillmere-screen.protocol"
        )
        {
            files,
            check,
        };
        command.SetAction(parsed =>
        {
            var changed = parsed
                .GetValue(files)!
                .Count(file => Format(file, parsed.GetValue(check), terminal));
            return parsed.GetValue(check) && changed > 0 ? ExitCode.HasErrors : ExitCode.Done;
        });
        return command;
    }

    private static bool Format(string path, bool checkOnly, Terminal terminal)
    {
        var before = TextFile.Read(path);
        var after = Formatter.Format(new SourceText(Path.GetFileName(path), before));
        if (before == after)
        {
            return false;
        }

        terminal.Say(checkOnly ? $"{path} would change." : $"{path} formatted.");
        if (!checkOnly)
        {
            using var folder = new OutputFolder(Path.GetDirectoryName(Path.GetFullPath(path))!);
            folder.Write(Path.GetFileName(path), after);
            folder.Finish();
        }

        return true;
    }
}
