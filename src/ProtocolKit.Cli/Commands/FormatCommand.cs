using System.CommandLine;
using ProtocolKit.Language;
using ProtocolKit.Language.Formatting;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>format FILE…</c>: rewrites in the one layout; <c>--check</c> only tells.</summary>
internal static class FormatCommand
{
    private const int MostListed = 12;

    public static Command Create(Terminal terminal)
    {
        var files = new Argument<string[]>("files")
        {
            Description =
                "Protocols or modules; - reads standard input and writes the result to standard output.",
            Arity = ArgumentArity.OneOrMore,
        };
        var check = new Option<bool>("--check")
        {
            Description = "Change nothing; say which lines of which files would change.",
        };
        var command = new Command(
            "format",
            "Rewrites files in the one layout: indentation, columns, tables, line ends. Comments and what the text says stay; "
                + "what can't be read is left as it is.\n\n"
                + "Example:\n  protocolkit format --check library/quillmere/quillmere-screen.protocol"
        )
        {
            files,
            check,
        };
        command.SetAction(parsed =>
        {
            var checkOnly = parsed.GetValue(check);
            var changed = parsed.GetValue(files)!.Count(file => Format(file, checkOnly, terminal));
            return checkOnly && changed > 0 ? ExitCode.HasErrors : ExitCode.Done;
        });
        return command;
    }

    private static bool Format(string path, bool checkOnly, Terminal terminal)
    {
        var isInput = path == "-";
        var shown = isInput ? "standard input" : path;
        var before = isInput ? terminal.ReadInput() : TextFile.Read(path);
        var after = Formatter.Of(new SourceText(Path.GetFileName(path), before));
        foreach (var line in after.UnreadLines.Take(MostListed))
        {
            terminal.Tell(
                $"{shown}, line {line}: what begins here can't be read and stays as it is. To see why: protocolkit check {path}"
            );
        }

        if (isInput && !checkOnly)
        {
            terminal.Output.Write(after.Text);
            return false;
        }

        if (before == after.Text)
        {
            return false;
        }

        terminal.Say(
            checkOnly ? $"{shown} would change: {Lines(after.ChangedLines)}." : $"{shown} formatted."
        );
        if (!checkOnly)
        {
            using var folder = new OutputFolder(Path.GetDirectoryName(Path.GetFullPath(path))!);
            folder.Write(Path.GetFileName(path), after.Text);
            folder.Finish();
        }

        return true;
    }

    /// <summary><c>lines 3, 7 to 9</c>.</summary>
    private static string Lines(IReadOnlyList<int> lines)
    {
        var runs = new List<(int From, int To)>();
        foreach (var line in lines)
        {
            if (runs.Count > 0 && runs[^1].To + 1 == line)
            {
                runs[^1] = (runs[^1].From, line);
            }
            else
            {
                runs.Add((line, line));
            }
        }

        if (runs.Count == 0)
        {
            return "its first character";
        }

        var listed = runs.Take(MostListed).Select(r => r.From == r.To ? $"{r.From}" : $"{r.From} to {r.To}");
        var more = runs.Skip(MostListed).Sum(r => r.To - r.From + 1);
        return (lines.Count == 1 ? "line " : "lines ")
            + string.Join(", ", listed)
            + (more > 0 ? $" and {more} more" : "");
    }
}
