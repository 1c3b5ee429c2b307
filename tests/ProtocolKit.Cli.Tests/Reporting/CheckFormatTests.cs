using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace ProtocolKit.Cli.Tests.Reporting;

/// <summary><c>check</c> for people, programs and build servers, with one file and with several.</summary>
[Collection(OneFolderAtATime.Name)]
public sealed partial class CheckFormatTests : IDisposable
{
    private const string Header = "protocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\n";

    private readonly Sandbox _sandbox = new();

    public void Dispose() => _sandbox.Dispose();

    [Fact]
    public void Annotations_are_workflow_commands_one_a_line()
    {
        var file = Sandbox.Write("a.protocol", Header + "materiel light \"Light\"\n");
        var (code, output, _) = Sandbox.Run("check", "--format", "github", file);
        Assert.Equal(1, code);
        Assert.Equal(
            "::error file=a.protocol,line=5,endLine=5,col=1,endColumn=9,title=PK2001%3A A line begins with an unknown word"
                + "::No line begins with “materiel” here.%0ADid you mean “material”?",
            output.Split('\n')[0]
        );
    }

    /// <summary>Unescaped in the reverse order of the toolkit, the properties are the file's name again.</summary>
    [Fact]
    public void Signs_of_the_command_are_escaped_in_names_and_messages()
    {
        var file = Sandbox.Write("100%,x.protocol", Header + "section s \"%0A\" \"::error::\" %\n");
        var output = Sandbox.Run("check", "--format", "github", file).Output;
        Assert.All(output.TrimEnd('\n').Split('\n'), l => Assert.Matches(Command(), l));
        var properties = Command().Match(output).Groups["file"].Value;
        Assert.Equal(
            file,
            properties
                .Replace("%2C", ",", StringComparison.Ordinal)
                .Replace("%3A", ":", StringComparison.Ordinal)
                .Replace("%25", "%", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Every_annotation_of_the_corpus_is_one_line_of_the_right_shape()
    {
        var output = Sandbox.Run(["check", "--format", "github", .. CorpusFiles.Copy()]).Output;
        var lines = output.TrimEnd('\n').Split('\n');
        Assert.InRange(lines.Length, 150, 100_000);
        Assert.All(lines, l => Assert.Matches(Command(), l));
    }

    [Fact]
    public void Nothing_wrong_gives_no_annotation()
    {
        Sandbox.Run("new", "our-screen");
        var (code, output, _) = Sandbox.Run("check", "--format", "github", "our-screen/our-screen.protocol");
        Assert.Equal((0, ""), (code, output));
    }

    [Fact]
    public void Programs_get_the_edit_and_the_other_place()
    {
        var file = Sandbox.Write(
            "a.protocol",
            Header
                + "material light \"Light\"\nmaterial light \"Lamp\"\nscael s, higher is better\n  1 \"Yes.\"\n"
        );
        var output = Sandbox.Run("check", "--format", "json", file).Output;
        var findings = JsonNode.Parse(output)![0]!["findings"]!.AsArray();
        var twice = findings.Single(f => (string?)f!["code"] == "PK3002")!;
        Assert.Equal(5, (int)twice["related"]![0]!["line"]!);
        var misspelt = findings.Single(f => (string?)f!["code"] == "PK2001")!;
        Assert.Equal("scale", (string?)misspelt["edit"]!["text"]);
        Assert.Equal(
            (7, 1, 5),
            (
                (int)misspelt["edit"]!["line"]!,
                (int)misspelt["edit"]!["column"]!,
                (int)misspelt["edit"]!["length"]!
            )
        );
    }

    [Fact]
    public void A_file_that_is_missing_doesnt_keep_the_others_from_being_checked()
    {
        var (code, output, messages) = Sandbox.Run(
            "check",
            "nowhere.protocol",
            "library/quillmere/quillmere-screen.protocol"
        );
        Assert.Equal(1, code);
        Assert.Contains("quillmere-screen.protocol: ", output, StringComparison.Ordinal);
        Assert.Contains("nowhere.protocol", messages, StringComparison.Ordinal);
    }

    [Fact]
    public void A_hyphen_reads_standard_input()
    {
        var output = new StringWriter();
        var code = CommandLineApp.Run(
            ["check", "-"],
            output,
            TextWriter.Null,
            new StringReader(Header + "taks a\n")
        );
        Assert.Equal(1, code);
        Assert.Contains("standard input, line 5", output.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void No_colours_where_results_go_to_no_terminal()
    {
        var file = Sandbox.Write("a.protocol", "taks a\n");
        Assert.DoesNotContain('\u001b', Sandbox.Run("check", file).Output);
    }

    [GeneratedRegex(
        @"^::(error|warning|notice) file=(?<file>[^,:\r\n]+),line=\d+,endLine=\d+,col=\d+,endColumn=\d+,title=PK\d{4}%3A [^,:\r\n]+::[^\r\n]+$",
        RegexOptions.Multiline
    )]
    private static partial Regex Command();
}
