using System.Text;
using System.Text.RegularExpressions;

namespace ProtocolKit.Cli.Tests;

/// <summary>
/// Every <c>console</c> block of the README is a session: lines after <c>$ </c> are typed, the rest is what must come out,
/// to the letter. Blocks marked <c>protocol</c> or <c>yaml</c> under a line that names a file are written first.
/// </summary>
[Collection(OneFolderAtATime.Name)]
public sealed partial class ReadmeTests
{
    [Fact]
    public void Every_shown_command_prints_what_is_shown()
    {
        var text = File.ReadAllText(Path.Combine(Sandbox.Root, "README.md")).ReplaceLineEndings("\n");
        using var sandbox = new Sandbox();
        var commands = 0;
        foreach (Match block in Block().Matches(text))
        {
            if (block.Groups["kind"].Value == "console")
            {
                commands += RunSession(block.Groups["body"].Value);
            }
            else if (block.Groups["file"].Success)
            {
                Sandbox.Write(block.Groups["file"].Value, block.Groups["body"].Value);
            }
        }

        Assert.True(commands >= 6, $"The tour shows {commands} commands; it should show the main ones.");
    }

    private static int RunSession(string body)
    {
        var commands = 0;
        var lines = body.TrimEnd('\n').Split('\n');
        for (var i = 0; i < lines.Length; )
        {
            Assert.StartsWith("$ protocolkit ", lines[i], StringComparison.Ordinal);
            var args = Arguments(lines[i]["$ protocolkit ".Length..]);
            var expected = new StringBuilder();
            for (i++; i < lines.Length && !lines[i].StartsWith("$ ", StringComparison.Ordinal); i++)
            {
                expected.Append(lines[i]).Append('\n');
            }

            var (_, output, messages) = Sandbox.Run(args);
            Assert.Equal(Clean(expected.ToString()), Clean(messages + output));
            commands++;
        }

        return commands;
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

    [GeneratedRegex("\"[^\"]*\"|[^ ]+")]
    private static partial Regex Argument();

    [GeneratedRegex(@" +\d+\.\d+ s")]
    private static partial Regex Time();
}
