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

    [Fact]
    public void Judges_columns_and_weights_can_be_named_at_the_command_line()
    {
        using var sandbox = new Sandbox();
        var judges = Sandbox.Run(
            "study",
            "cut-offs",
            Example,
            Pilot,
            "--judges",
            "library/quillmere/pilot/judges.csv",
            "--score",
            "jaw-total",
            "--resamples",
            "50",
            "-o",
            "a"
        );
        Assert.Equal(0, judges.Code);
        Assert.Contains(
            "7.1",
            File.ReadAllText("a/study-cut-offs/judges-jaw-total.csv"),
            StringComparison.Ordinal
        );
        Assert.Equal(
            0,
            Sandbox
                .Run("study", "norms", Example, Pilot, "--by", "sex", "--score", "jaw-total", "-o", "b")
                .Code
        );
        Assert.Contains("sex girl", File.ReadAllText("b/study-norms.html"), StringComparison.Ordinal);
        Assert.Equal(
            0,
            Sandbox
                .Run(
                    "study",
                    "agreement",
                    Example,
                    Pilot,
                    "--weights",
                    "1 0.5 0; 0.5 1 0.5; 0 0.5 1",
                    "--resamples",
                    "50",
                    "-o",
                    "c"
                )
                .Code
        );
        Assert.Contains(
            "kappa-own",
            File.ReadAllText("c/study-agreement/items-levels.csv"),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void The_same_seed_writes_the_same_bytes_on_one_and_on_two_threads()
    {
        using var sandbox = new Sandbox();
        foreach (var threads in new[] { "1", "2" })
        {
            string[] line =
            [
                "study",
                "cut-offs",
                Example,
                Pilot,
                "--score",
                "jaw-total",
                "--resamples",
                "300",
                "--seed",
                "7",
            ];
            Assert.Equal(0, Sandbox.Run([.. line, "--threads", threads, "-o", "t" + threads]).Code);
        }

        Assert.Equal(File.ReadAllText("t1/study-cut-offs.html"), File.ReadAllText("t2/study-cut-offs.html"));
        Assert.Equal(File.ReadAllText("t1/study-cut-offs.json"), File.ReadAllText("t2/study-cut-offs.json"));
    }

    [Theory]
    [InlineData("agreement")]
    [InlineData("items")]
    [InlineData("cut-offs")]
    [InlineData("norms")]
    [InlineData("change")]
    public void Help_shows_an_example_of_every_kind(string kind)
    {
        using var sandbox = new Sandbox();
        var (code, output, _) = Sandbox.Run("study", kind, "--help");
        Assert.Equal(0, code);
        Assert.Contains($"protocolkit study {kind} ", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("opinions")]
    [InlineData("agreement", "--weights", "1 0.5; 0.5")]
    [InlineData("agreement", "--weights", "1 2; 2 1")]
    [InlineData("agreement", "--weights", "0.5 0; 0 1")]
    [InlineData("agreement", "--weights", "one half")]
    [InlineData("agreement", "--threads", "0")]
    [InlineData("cut-offs", "--prevalence", "2")]
    [InlineData("cut-offs", "--resamples", "0")]
    public void Wrong_use_exits_with_2(string kind, params string[] options)
    {
        using var sandbox = new Sandbox();
        Assert.Equal(2, Sandbox.Run(["study", kind, Example, Pilot, .. options]).Code);
    }
}
