namespace ProtocolKit.Cli.Tests;

/// <summary>The verb <c>study</c> as it is typed: what is printed where, what is written, and the exit status.</summary>
[Collection(OneFolderAtATime.Name)]
public sealed class StudyVerbTests
{
    private const string Example = "library/quillmere/quillmere-screen.protocol";
    private const string Pilot = "library/quillmere/pilot/pilot.csv";

    [Fact]
    public void A_study_writes_page_tables_and_json_and_prints_text_to_paste()
    {
        using var sandbox = new Sandbox();
        var (code, output, _) = Sandbox.Run("study", "change", Example, Pilot, "-o", "evidence");
        Assert.Equal(0, code);
        Assert.Contains("re-test jaw-total\n  error ", output, StringComparison.Ordinal);
        Assert.True(File.Exists("evidence/study-change.html"));
        Assert.True(File.Exists("evidence/study-change.json"));
        Assert.True(File.Exists("evidence/study-change/error.csv"));
    }

    [Fact]
    public void Bad_rows_are_told_the_rest_is_studied_and_the_exit_status_is_1()
    {
        using var sandbox = new Sandbox();
        var text = File.ReadAllText(Pilot);
        File.WriteAllText(
            "bad.csv",
            text.Replace("invented-003,", "Miss Invented,", StringComparison.Ordinal)
        );
        var (code, output, messages) = Sandbox.Run("study", "agreement", Example, "bad.csv");
        Assert.Equal(1, code);
        Assert.Contains("A record holds no names", messages, StringComparison.Ordinal);
        Assert.DoesNotContain("Miss Invented", messages + output, StringComparison.Ordinal);
        Assert.Contains("Sittings rated more than once", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("opinions")]
    [InlineData("cut-offs", "--prevalence", "2")]
    [InlineData("cut-offs", "--resamples", "0")]
    public void Wrong_use_exits_with_2(string kind, params string[] options)
    {
        using var sandbox = new Sandbox();
        Assert.Equal(2, Sandbox.Run(["study", kind, Example, Pilot, .. options]).Code);
    }
}
