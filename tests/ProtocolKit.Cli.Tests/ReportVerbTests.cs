namespace ProtocolKit.Cli.Tests;

/// <summary>The verbs <c>report</c> and <c>retest</c> as they are typed.</summary>
[Collection(OneFolderAtATime.Name)]
public sealed class ReportVerbTests
{
    private const string Example = "library/quillmere/quillmere-screen.protocol";
    private const string Records = "library/quillmere/records";
    private const string March = "library/quillmere/records/qc-0417.yaml";

    [Fact]
    public void A_folder_of_records_gives_a_note_and_a_letter_each()
    {
        using var sandbox = new Sandbox();
        var (code, output, messages) = Sandbox.Run("report", Example, Records, "-o", "out", "--no-pdf");
        Assert.Equal(0, code);
        Assert.Equal("", messages);
        Assert.Contains("12 files in out.", output, StringComparison.Ordinal);
        foreach (var record in new[] { "QC-0417", "QC-0522", "QC-0688", "QC-0731", "QC-0859", "QC-0906" })
        {
            Assert.Contains(record, File.ReadAllText($"out/note-{record}.html"), StringComparison.Ordinal);
            Assert.Contains(
                "your child",
                File.ReadAllText($"out/letter-{record}.html"),
                StringComparison.Ordinal
            );
        }
    }

    [Fact]
    public void The_name_given_goes_into_the_letter_and_stays_nowhere_else()
    {
        using var sandbox = new Sandbox();
        var (code, output, messages) = Sandbox.Run(
            "report",
            Example,
            March,
            "--child",
            "Ada Invented",
            "-o",
            "out",
            "--no-pdf"
        );
        Assert.Equal(0, code);
        Assert.Contains(
            "print them, hand them over, and delete them here",
            messages,
            StringComparison.Ordinal
        );
        Assert.DoesNotContain("Ada", output + messages, StringComparison.Ordinal);
        var holding = Directory
            .EnumerateFiles(".", "*", SearchOption.AllDirectories)
            .Where(f => File.ReadAllText(f).Contains("Ada Invented", StringComparison.Ordinal))
            .Select(f => Path.GetFileName(f));
        Assert.Equal(["letter-QC-0417.html"], holding);
    }

    [Fact]
    public void Names_are_asked_for_one_by_one()
    {
        using var sandbox = new Sandbox();
        var (code, _, messages) = Sandbox.RunWith(
            "Ada\n\n",
            "report",
            Example,
            March,
            "library/quillmere/records/qc-0522.yaml",
            "--ask",
            "-o",
            "out",
            "--no-pdf",
            "--only",
            "letter"
        );
        Assert.Equal(0, code);
        Assert.Contains("Name for the letter of case QC-0417", messages, StringComparison.Ordinal);
        Assert.Contains(
            "Dear family of Ada,",
            File.ReadAllText("out/letter-QC-0417.html"),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "Dear family of the child we saw,",
            File.ReadAllText("out/letter-QC-0522.html"),
            StringComparison.Ordinal
        );
        Assert.False(File.Exists("out/note-QC-0417.html"));
    }

    [Fact]
    public void One_name_for_several_children_is_wrong_use()
    {
        using var sandbox = new Sandbox();
        Assert.Equal(2, Sandbox.Run("report", Example, Records, "--child", "Ada", "-o", "out").Code);
        Assert.False(Directory.Exists("out"));
        Assert.Equal(2, Sandbox.Run("report", Example, March, "--child", "Ada\nB", "-o", "out").Code);
    }

    [Fact]
    public void A_bad_record_is_told_the_others_are_written_and_the_exit_status_is_1()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write(
            "bad.yaml",
            File.ReadAllText(March)
                .Replace("kiss.rate.trial-1: 2", "kiss.rate.trial-1: 7", StringComparison.Ordinal)
        );
        var (code, output, messages) = Sandbox.Run(
            "report",
            Example,
            "bad.yaml",
            March,
            "-o",
            "out",
            "--no-pdf"
        );
        Assert.Equal(1, code);
        Assert.Contains("bad.yaml: 1 problem; left out.", messages, StringComparison.Ordinal);
        Assert.Contains("2 files in out.", output, StringComparison.Ordinal);
    }

    [Fact]
    public void An_earlier_sitting_tells_what_changed()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write("june.yaml", June());
        Assert.Equal(
            0,
            Sandbox.Run("report", Example, "june.yaml", "--earlier", March, "-o", "out", "--no-pdf").Code
        );
        Assert.Contains(
            "Seen before on 2026-03-04.",
            File.ReadAllText("out/note-QC-0417.html"),
            StringComparison.Ordinal
        );

        // Both in one folder: each gets its own files, and the later one tells of the earlier.
        Assert.Equal(0, Sandbox.Run("report", Example, "june.yaml", March, "-o", "both", "--no-pdf").Code);
        Assert.Contains(
            "Seen before",
            File.ReadAllText("both/note-QC-0417-2026-06-01.html"),
            StringComparison.Ordinal
        );
        Assert.DoesNotContain(
            "Seen before",
            File.ReadAllText("both/note-QC-0417-2026-03-04.html"),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_letterhead_comes_from_the_settings_beside_the_protocol()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write(
            "library/quillmere/settings.yaml",
            "letterhead:\n  name: Quillmere Children's Clinic\n  call: \"Call us: 555 0100\"\nink: \"#1f3a5f\"\n"
        );
        Assert.Equal(0, Sandbox.Run("report", Example, March, "-o", "out", "--no-pdf").Code);
        foreach (var page in new[] { "letter", "note" })
        {
            var html = File.ReadAllText($"out/{page}-QC-0417.html");
            Assert.Contains(
                "<p class=\"name\">Quillmere Children&#39;s Clinic</p>",
                html,
                StringComparison.Ordinal
            );
            Assert.Contains("color: #1f3a5f", html, StringComparison.Ordinal);
        }

        Sandbox.Write("library/quillmere/settings.yaml", "ink: \"#9fc5e8\"\n");
        var (code, _, messages) = Sandbox.Run("report", Example, March, "-o", "out", "--no-pdf");
        Assert.Equal(1, code);
        Assert.Contains("too pale", messages, StringComparison.Ordinal);
    }

    [Fact]
    public void Retest_prints_the_three_answers_and_writes_a_page_where_asked()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write("june.yaml", June());
        var (code, output, _) = Sandbox.Run("retest", Example, "june.yaml", March, "-o", "out", "--no-pdf");
        Assert.Equal(0, code);
        Assert.Contains(
            "Sittings: 2026-03-04 (4;3, full form); 2026-06-01 (4;6, full form).",
            output,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "2026-03-04 to 2026-06-01: the same value: within the error of measurement.",
            output,
            StringComparison.Ordinal
        );
        Assert.Contains("A screen makes no diagnosis", output, StringComparison.Ordinal);
        Assert.True(File.Exists("out/re-test-QC-0417.html"));
    }

    [Theory]
    [InlineData("Two records of one child are needed.", March)]
    [InlineData(
        "These are records of different children: QC-0688, QC-0417.",
        March,
        "library/quillmere/records/qc-0688.yaml"
    )]
    [InlineData("Two of these records are of the same day: name each sitting once.", March, March)]
    public void Retest_refuses_what_it_cannot_compare(string why, params string[] records)
    {
        using var sandbox = new Sandbox();
        var (code, output, messages) = Sandbox.Run(["retest", Example, .. records]);
        Assert.Equal(1, code);
        Assert.Equal("", output);
        Assert.Contains(why, messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("report")]
    [InlineData("retest")]
    public void The_help_shows_an_example(string verb)
    {
        var (code, output, _) = Sandbox.Run(verb, "--help");
        Assert.Equal(0, code);
        Assert.Contains(
            $"protocolkit {verb} library/quillmere/quillmere-screen.protocol",
            output,
            StringComparison.Ordinal
        );
    }

    private static string June() =>
        File.ReadAllText(March)
            .Replace("2026-03-04", "2026-06-01", StringComparison.Ordinal)
            .Replace("age-months: 51", "age-months: 54", StringComparison.Ordinal);
}
