using System.Text.Json;

namespace ProtocolKit.Cli.Tests;

/// <summary>Exit codes, where output goes, and that failing runs leave earlier files whole.</summary>
[Collection(OneFolderAtATime.Name)]
public sealed class VerbTests
{
    private const string Example = "library/quillmere/quillmere-screen.protocol";
    private const string Tiny = "protocol tiny\n  title \"Tiny\"\n  edition 1.0\n  ages 4;0 to 5;11\n";

    [Fact]
    public void The_example_checks_without_errors_or_warnings()
    {
        using var sandbox = new Sandbox();
        var (code, output, _) = Sandbox.Run("check", Example);
        Assert.Equal(0, code);
        Assert.DoesNotContain("error", output, StringComparison.Ordinal);
        Assert.DoesNotContain("warning", output, StringComparison.Ordinal);
        Assert.Contains("64 tasks", output, StringComparison.Ordinal);
    }

    [Fact]
    public void Errors_are_listed_and_the_exit_code_is_1()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write("bad.protocol", Tiny + "taks a\n");
        var (code, output, _) = Sandbox.Run("check", "bad.protocol");
        Assert.Equal(1, code);
        Assert.Contains("bad.protocol, line 5", output, StringComparison.Ordinal);
    }

    [Fact]
    public void Findings_as_json_can_be_read_by_a_program()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write("bad.protocol", Tiny + "taks a\n");
        var (code, output, _) = Sandbox.Run("check", "bad.protocol", "--format", "json");
        Assert.Equal(1, code);
        var finding = JsonDocument.Parse(output).RootElement[0].GetProperty("findings")[0];
        Assert.Equal("PK2001", finding.GetProperty("code").GetString());
        Assert.Equal(5, finding.GetProperty("line").GetInt32());
    }

    [Theory]
    [InlineData("check")]
    [InlineData("no-such-verb")]
    [InlineData("build", Example, "--paper", "a3")]
    [InlineData("build", Example, "--only", "posters")]
    [InlineData("build", Example, "--age", "5.3")]
    [InlineData("new", "Not A Name")]
    [InlineData("explain", "PK0000")]
    public void Wrong_use_answers_2_and_prints_nothing_as_a_result(params string[] args)
    {
        using var sandbox = new Sandbox();
        var (code, output, messages) = Sandbox.Run(args);
        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.NotEmpty(messages);
    }

    [Fact]
    public void A_missing_file_is_named()
    {
        using var sandbox = new Sandbox();
        var (code, _, messages) = Sandbox.Run("check", "nowhere.protocol");
        Assert.Equal(1, code);
        Assert.Contains("nowhere.protocol", messages, StringComparison.Ordinal);
    }

    [Fact]
    public void Building_a_protocol_with_errors_leaves_earlier_files_whole()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write("bad.protocol", Tiny + "taks a\n");
        Sandbox.Write("out/record-sheet.html", "earlier");
        var (code, _, _) = Sandbox.Run("build", "bad.protocol", "-o", "out");
        Assert.Equal(1, code);
        Assert.Equal("earlier", File.ReadAllText("out/record-sheet.html"));
        Assert.Single(Directory.EnumerateFileSystemEntries("out"));
    }

    [Fact]
    public void Building_twice_gives_the_same_bytes()
    {
        using var sandbox = new Sandbox();
        Assert.Equal(0, Sandbox.Run("build", Example, "-o", "one", "--no-pdf").Code);
        Assert.Equal(0, Sandbox.Run("build", Example, "-o", "two", "--no-pdf").Code);
        var files = Directory.EnumerateFiles("one", "*", SearchOption.AllDirectories).ToList();
        Assert.True(files.Count >= 6);
        Assert.All(files, f => Assert.Equal(File.ReadAllBytes(f), File.ReadAllBytes("two" + f[3..])));
    }

    [Fact]
    public void A_template_beside_the_protocol_stands_in_for_the_built_in_one()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write("library/quillmere/templates/record-sheet/sheet.html", "<p>ours</p>");
        var (code, _, messages) = Sandbox.Run(
            "build",
            Example,
            "-o",
            "out",
            "--only",
            "record-sheet",
            "--no-pdf"
        );
        Assert.True(code == 0, messages);
        Assert.Contains("<p>ours</p>", File.ReadAllText("out/record-sheet.html"), StringComparison.Ordinal);
    }

    [Fact]
    public void What_new_writes_compiles_without_warnings()
    {
        using var sandbox = new Sandbox();
        Assert.Equal(0, Sandbox.Run("new", "our-screen").Code);
        var (code, output, _) = Sandbox.Run("check", "our-screen/our-screen.protocol");
        Assert.Equal(0, code);
        Assert.StartsWith("our-screen.protocol: nothing wrong.", output, StringComparison.Ordinal);
        Assert.Equal(1, Sandbox.Run("new", "our-screen").Code);
    }

    [Fact]
    public void Formatting_mends_tabs_and_line_ends_and_twice_equals_once()
    {
        using var sandbox = new Sandbox();
        const string messy =
            "protocol tiny\r\n\ttitle \"Tiny\"  \r\n      edition 1.0\r\n\tages 4;0 to 5;11\r\n# end\r\n";
        Sandbox.Write("messy.protocol", messy.Replace("      ", "\t", StringComparison.Ordinal));
        Assert.Equal(1, Sandbox.Run("format", "--check", "messy.protocol").Code);
        Assert.Equal(0, Sandbox.Run("format", "messy.protocol").Code);
        Assert.Equal(
            "protocol tiny\n  title   \"Tiny\"\n  edition 1.0\n  ages    4;0 to 5;11\n# end\n",
            File.ReadAllText("messy.protocol")
        );
        Assert.Equal(0, Sandbox.Run("format", "--check", "messy.protocol").Code);
    }

    [Fact]
    public void The_library_is_in_the_one_layout()
    {
        using var sandbox = new Sandbox();
        var files = Directory.EnumerateFiles("library", "*.protocol", SearchOption.AllDirectories).ToArray();
        var (code, output, _) = Sandbox.Run(["format", "--check", .. files]);
        Assert.True(code == 0, output);
    }

    [Fact]
    public void Explain_lists_all_codes_and_shows_one()
    {
        Assert.Contains("PK4005", Sandbox.Run("explain").Output, StringComparison.Ordinal);
        var (code, output, _) = Sandbox.Run("explain", "pk4005");
        Assert.Equal(0, code);
        Assert.Contains("Not so:", output, StringComparison.Ordinal);
    }
}
