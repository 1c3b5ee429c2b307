using System.Diagnostics;

namespace ProtocolKit.Cli.Tests;

/// <summary>The verb <c>worksheet</c> as it is typed.</summary>
[Collection(OneFolderAtATime.Name)]
public sealed class WorksheetVerbTests
{
    private const string Example = "library/quillmere/quillmere-screen.protocol";

    [Theory]
    [InlineData("total")]
    [InlineData("rate")]
    [InlineData("slip")]
    [InlineData("age")]
    [InlineData("raters")]
    public void Every_kind_gives_thirty_cases_a_key_of_its_own_and_a_checklist(string kind)
    {
        using var sandbox = new Sandbox();
        var (code, output, messages) = Run("--kind", kind, "--cases", "30", "--seed", "7");
        Assert.Equal((0, ""), (code, messages));
        Assert.Contains("3 files in out.", output, StringComparison.Ordinal);
        Assert.Contains("INVENTED CASE 30<", Page($"worksheet-{kind}.html"), StringComparison.Ordinal);
        Assert.Contains("INVENTED CASE 30<", Page($"worksheet-{kind}-key.html"), StringComparison.Ordinal);
        Assert.Contains("INVENTED CASE", Page("giving-checklist.html"), StringComparison.Ordinal);
    }

    [Fact]
    public void The_short_form_has_its_own_tasks_and_cut_offs()
    {
        using var sandbox = new Sandbox();
        Assert.Equal(0, Run("--cases", "12", "--short-form").Code);
        var (cases, checklist) = (Page("worksheet-total.html"), Page("giving-checklist.html"));
        Assert.Contains("short form, seed 1", cases, StringComparison.Ordinal);
        Assert.Contains("Tongue tip to the nose", checklist, StringComparison.Ordinal);
        Assert.DoesNotContain("Tongue tip to the chin", cases + checklist, StringComparison.Ordinal);
        // The short form's table of the tongue ends at 14, the full form's at 20.
        Assert.DoesNotContain("to 20", cases, StringComparison.Ordinal);
    }

    [Fact]
    public void A_translation_is_practised_in_its_own_words()
    {
        using var sandbox = new Sandbox();
        Assert.Equal(0, Run("--language", "de").Code);
        Assert.Contains("Langsames Öffnen", Page("giving-checklist.html"), StringComparison.Ordinal);
        Assert.DoesNotContain("Slow opening", Page("giving-checklist.html"), StringComparison.Ordinal);
    }

    [Fact]
    public void Descriptions_in_another_language_are_asked_for_not_borrowed()
    {
        using var sandbox = new Sandbox();
        var (code, _, messages) = Run("--kind", "rate", "--language", "de");
        Assert.Equal(1, code);
        Assert.Contains("quillmere-screen.de.vignettes.yaml is missing.", messages, StringComparison.Ordinal);
        Assert.False(Directory.Exists("out"));
    }

    [Fact]
    public void Without_a_short_form_there_is_none_to_practise()
    {
        using var sandbox = new Sandbox();
        Assert.Equal(0, Sandbox.Run("new", "our-screen").Code);
        const string Starter = "our-screen/our-screen.protocol";
        Assert.DoesNotContain("short form", File.ReadAllText(Starter), StringComparison.Ordinal);
        var (code, _, messages) = Sandbox.Run("worksheet", Starter, "--short-form", "-o", "out", "--no-pdf");
        Assert.Equal(1, code);
        Assert.Contains("no short form", messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0")]
    [InlineData("501")]
    public void So_many_cases_are_refused(string cases)
    {
        using var sandbox = new Sandbox();
        var (code, _, messages) = Run("--cases", cases);
        Assert.Equal(2, code);
        Assert.Contains("from 1 to 500", messages, StringComparison.Ordinal);
    }

    /// <summary>On a terminal of its own, as util-linux's <c>script</c> gives one; piped, there is none.</summary>
    [Fact]
    public void A_bar_fills_on_a_terminal_and_nowhere_else()
    {
        using var sandbox = new Sandbox();
        Assert.DoesNotContain("cases", Run("--cases", "3").Messages, StringComparison.Ordinal);
        var program = Path.Combine(AppContext.BaseDirectory, "protocolkit.dll");
        using var process = Process.Start(
            new ProcessStartInfo(
                "script",
                ["-qec", $"dotnet '{program}' worksheet {Example} --cases 4 -o out2 --no-pdf", "/dev/null"]
            )
            {
                RedirectStandardOutput = true,
                RedirectStandardInput = true,
            }
        )!;
        var shown = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
        Assert.Contains(
            $"[{new string('#', 10)}{new string('.', 30)}] 1 of 4 cases",
            shown,
            StringComparison.Ordinal
        );
        Assert.Contains($"[{new string('#', 40)}] 4 of 4 cases", shown, StringComparison.Ordinal);
    }

    private static (int Code, string Output, string Messages) Run(params string[] more) =>
        Sandbox.Run(["worksheet", Example, "-o", "out", "--no-pdf", .. more]);

    private static string Page(string name) => File.ReadAllText(Path.Combine("out", name));
}
