using System.CommandLine;
using System.Reflection;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>new NAME</c>: a small, complete protocol to start from, with a record.</summary>
internal static class NewCommand
{
    public static Command Create(Terminal terminal)
    {
        var name = new Argument<string>("name")
        {
            Description = "Lower-case words joined by hyphens, such as our-screen.",
        };
        var command = new Command(
            "new",
            "Writes a small protocol to start from, and a record of an invented child.\n\nExample:\n  protocolkit new our-screen"
        )
        {
            name,
        };
        command.SetAction(parsed => Run(parsed.GetValue(name)!, terminal));
        return command;
    }

    private static int Run(string name, Terminal terminal)
    {
        if (!IsName(name))
        {
            terminal.Tell(
                $"{name} isn't a name. Use lower-case words joined by hyphens, such as our-screen."
            );
            return ExitCode.WrongUse;
        }

        if (Directory.Exists(name) || File.Exists(name))
        {
            terminal.Tell(
                $"There is something called {name} here already. Choose another name, or move it away."
            );
            return ExitCode.HasErrors;
        }

        using var folder = new OutputFolder(name);
        folder.Write($"{name}.protocol", Template("starter.protocol", name));
        folder.Write("records/first-child.yaml", Template("starter.yaml", name));
        foreach (var file in folder.Finish())
        {
            terminal.Say($"{name}/{file}");
        }

        terminal.Say();
        terminal.Say("Next:");
        terminal.Say($"  protocolkit check {name}/{name}.protocol");
        terminal.Say($"  protocolkit score {name}/{name}.protocol {name}/records/first-child.yaml");
        terminal.Say($"  protocolkit build {name}/{name}.protocol -o {name}/out");
        return ExitCode.Done;
    }

    private static bool IsName(string name) =>
        name.Length is > 0 and <= 60
        && char.IsAsciiLetterLower(name[0])
        && name[^1] != '-'
        && !name.Contains("--", StringComparison.Ordinal)
        && name.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-');

    private static string Template(string file, string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(file)!;
        using var reader = new StreamReader(stream);
        return reader
            .ReadToEnd()
            .ReplaceLineEndings("\n")
            .Replace("starter-screen", name, StringComparison.Ordinal);
    }
}
