using System.Text;
using System.Text.RegularExpressions;

namespace ProtocolKit.Cli.Tests;

/// <summary>
/// Every <c>console</c> block of the README is a session: lines after <c>$ </c> are typed, the rest is what must come out,
/// to the letter. Blocks marked <c>protocol</c> or <c>yaml</c> under a line that names a file are written first.
/// Run with <c>PROTOCOLKIT_REWRITE_README=1</c> in the environment to write what comes out into the page; review the change.
/// </summary>
[Collection(OneFolderAtATime.Name)]
public sealed partial class ReadmeTests
{
    private const string Switch = "PROTOCOLKIT_REWRITE_README";

    [Fact]
    public void Every_shown_command_prints_what_is_shown()
    {
        var path = Path.Combine(Sandbox.Root, "README.md");
        var text = File.ReadAllText(path).ReplaceLineEndings("\n");
        var commands = new List<ShownCommand>();
        using (new Sandbox())
        {
            foreach (Match block in Block().Matches(text))
            {
                if (block.Groups["kind"].Value == "console")
                {
                    commands.AddRange(RunSession(block.Groups["body"]));
                }
                else if (block.Groups["file"].Success)
                {
                    Sandbox.Write(block.Groups["file"].Value, block.Groups["body"].Value);
                }
            }
        }

        Assert.True(
            commands.Count >= 6,
            $"The tour shows {commands.Count} commands; it should show the main ones."
        );
        if (Environment.GetEnvironmentVariable(Switch) == "1")
        {
            File.WriteAllText(path, Rewritten(text, commands));
            return;
        }

        Assert.All(commands, c => Assert.Equal(Clean(c.Expected), Clean(c.Printed)));
    }

    /// <param name="Start">Where the shown output begins in the page.</param>
    private sealed record ShownCommand(int Start, string Expected, string Printed);

    private static List<ShownCommand> RunSession(Group body)
    {
        var commands = new List<ShownCommand>();
        foreach (Match shown in Command().Matches(body.Value))
        {
            var (_, output, messages) = Sandbox.Run(Arguments(shown.Groups["line"].Value));
            var expected = shown.Groups["output"];
            commands.Add(new ShownCommand(body.Index + expected.Index, expected.Value, messages + output));
        }

        Assert.True(
            commands.Count > 0 && body.Value.StartsWith("$ protocolkit ", StringComparison.Ordinal),
            "A session begins with a command: " + body.Value
        );
        return commands;
    }

    private static string Rewritten(string text, IEnumerable<ShownCommand> commands)
    {
        var page = new StringBuilder(text);
        foreach (var shown in commands.OrderByDescending(c => c.Start))
        {
            if (Clean(shown.Expected) == Clean(shown.Printed))
            {
                continue;
            }

            page.Remove(shown.Start, shown.Expected.Length)
                .Insert(shown.Start, shown.Printed.TrimEnd() + "\n");
        }

        return page.ToString();
    }

    /// <summary>Times differ from run to run.</summary>
    private static string Clean(string text) => Time().Replace(text.TrimEnd(), "0.0 s");

    private static string[] Arguments(string line) =>
        [.. Argument().Matches(line).Select(m => m.Value.Trim('"'))];

    [GeneratedRegex(
        "(?:`(?<file>[a-z0-9/.-]+)`:\n\n)?```(?<kind>console|protocol|yaml)\n(?<body>.*?)```\n",
        RegexOptions.Singleline
    )]
    private static partial Regex Block();

    [GeneratedRegex(
        @"^\$ protocolkit (?<line>[^\n]*)\n(?<output>(?:(?!\$ )[^\n]*\n)*)",
        RegexOptions.Multiline
    )]
    private static partial Regex Command();

    [GeneratedRegex("\"[^\"]*\"|[^ ]+")]
    private static partial Regex Argument();

    [GeneratedRegex(@" +\d+\.\d+ s")]
    private static partial Regex Time();
}
