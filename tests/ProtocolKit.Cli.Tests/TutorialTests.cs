using System.Text.RegularExpressions;

namespace ProtocolKit.Cli.Tests;

/// <summary>
/// grammar/tutorial.md step by step: each piece of text is added to the file, which then compiles; each command prints what the page
/// shows. <c>PROTOCOLKIT_REWRITE_TUTORIAL=1</c> writes the outputs anew.
/// </summary>
[Collection(OneFolderAtATime.Name)]
public sealed partial class TutorialTests
{
    private const string File = "my-screen.protocol";

    private static readonly string Page = Path.Combine(Sandbox.Root, "grammar", "tutorial.md");

    [Fact]
    public void Every_step_compiles_and_prints_what_the_page_shows()
    {
        using var sandbox = new Sandbox();
        var page = System.IO.File.ReadAllText(Page).ReplaceLineEndings("\n");
        var text = "";
        var steps = 0;
        var shown = Block()
            .Replace(
                page,
                block =>
                {
                    if (block.Groups["kind"].Value == "protocol")
                    {
                        text += (text.Length == 0 ? "" : "\n") + block.Groups["body"].Value;
                        Sandbox.Write(File, text);
                        var (code, output, _) = Sandbox.Run("check", File);
                        Assert.True(code == 0, output);
                        steps++;
                        return block.Value;
                    }

                    return $"```console\n{Run(block.Groups["body"].Value)}```\n";
                }
            );
        Assert.Equal(7, steps);
        if (Environment.GetEnvironmentVariable("PROTOCOLKIT_REWRITE_TUTORIAL") == "1")
        {
            System.IO.File.WriteAllText(Page, shown);
        }

        Assert.Equal(page, shown);
    }

    [Fact]
    public void It_ends_with_twelve_tasks_without_a_warning()
    {
        using var sandbox = new Sandbox();
        var page = System.IO.File.ReadAllText(Page).ReplaceLineEndings("\n");
        var texts = Block().Matches(page).Where(b => b.Groups["kind"].Value == "protocol");
        Sandbox.Write(File, string.Join('\n', texts.Select(b => b.Groups["body"].Value)));
        var output = Sandbox.Run("check", File).Output;
        Assert.DoesNotContain("warning", output, StringComparison.Ordinal);
        Assert.Contains("12 tasks", output, StringComparison.Ordinal);
    }

    /// <summary>The commands of a block with what each prints.</summary>
    private static string Run(string block)
    {
        var written = "";
        foreach (
            var line in block.Split('\n').Where(l => l.StartsWith("$ protocolkit ", StringComparison.Ordinal))
        )
        {
            var (_, output, messages) = Sandbox.Run(line.Split(' ')[2..]);
            written += line + "\n" + Told(output + messages);
        }

        return written;
    }

    [GeneratedRegex(
        "^```(?<kind>protocol|console)\n(?<body>.*?)^```\n",
        RegexOptions.Singleline | RegexOptions.Multiline
    )]
    private static partial Regex Block();

    /// <summary>Without the fingerprints and the word about proofs, which are no matter of a first half hour.</summary>
    private static string Told(string output) =>
        string.Concat(
                output
                    .Split('\n')
                    .TakeWhile(l => !l.StartsWith("Form ", StringComparison.Ordinal))
                    .Select(l => l + "\n")
            )
            .Replace("\n\n\n", "\n\n", StringComparison.Ordinal)
            .TrimEnd('\n') + (output.Length == 0 ? "" : "\n");
}
