using System.Text.Json;

namespace ProtocolKit.Cli.Tests;

/// <summary><c>compare</c>: what an edit changes, in sentences, and for whom.</summary>
[Collection(OneFolderAtATime.Name)]
public sealed class CompareTests
{
    private const string Old = """
        protocol tiny
          title   "Tiny"
          edition 1.0
          ages    4;0 to 5;11
        scale three, higher is better
          2 "Full."
          1 "Part."
          0 "None."
        task kiss "Kiss"
          say  "Make a kiss."
          rate three
        task smile "Smile"
          say  "Smile."
          rate three
        score lips "Lips" = kiss + smile
        cut-offs lips
          ages         look-again  as-expected
          4;0 to 5;11  0 to 1      2 to 4
          basis provisional "invented"
        actions
          again "Screen again" within 12 weeks
            when lips is look-again
          finish-it "Finish" within 4 weeks, finish
            when any band is undecided
          none "No action"
            when no other action applies

        """;

    private static readonly string Record =
        "protocol: tiny\nedition: 1.0\ncase: C-1\nage-months: 50\nparts:\n  - seen: 2026-03-04\nanswers:\n  kiss.rate: 1\n  smile.rate: 1\n";

    [Fact]
    public void Equal_editions_say_that_nothing_changed()
    {
        using var sandbox = new Sandbox();
        var (code, output) = Compare(Old, []);
        Assert.Equal(0, code);
        Assert.Contains(
            "Nothing that a record holds or means has changed.",
            output,
            StringComparison.Ordinal
        );
        Assert.Contains("Form: unchanged", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(
        "Make a kiss.",
        "Make kissing lips.",
        "Form",
        "Kiss: says “Make kissing lips.” instead of “Make a kiss.”."
    )]
    [InlineData(
        "1 \"Part.\"",
        "1 \"Half.\"",
        "Form",
        "Smile: level 1 of rate is “Half.” instead of “Part.”."
    )]
    [InlineData(
        "score lips",
        "giving order\n  smile, kiss\nscore lips",
        "Administration",
        "Kiss is now given after Smile."
    )]
    [InlineData(
        "  say  \"Smile.\"\n",
        "  say  \"Smile.\"\n  trials 2, keep last\n",
        "Administration",
        "Smile: has 2 trials, the last kept instead of one trial."
    )]
    [InlineData(
        "  say  \"Smile.\"\n",
        "  say  \"Smile.\"\n  help said again\n",
        "Administration",
        "Smile: the help is said again instead of none."
    )]
    [InlineData(
        "0 to 1      2 to 4",
        "0 to 2      3 to 4",
        "Interpretation",
        "Cut-offs of Lips: at 4;0 to 5;11, look-again is 0 to 2 instead of 0 to 1."
    )]
    [InlineData(
        "= kiss + smile",
        "= kiss + kiss",
        "Interpretation",
        "Lips: is kiss + kiss instead of kiss + smile."
    )]
    [InlineData(
        "within 12 weeks",
        "within 8 weeks",
        "Interpretation",
        "Screen again: is urgent within 8 weeks instead of within 12 weeks."
    )]
    [InlineData("edition 1.0", "edition 1.1", "Beside", "The edition is “1.1” instead of “1.0”.")]
    public void A_change_is_said_under_the_fingerprint_it_moves(
        string old,
        string edited,
        string aspect,
        string sentence
    )
    {
        using var sandbox = new Sandbox();
        Assert.Contains(old, Old, StringComparison.Ordinal);
        var (code, output) = Compare(Old.Replace(old, edited, StringComparison.Ordinal), []);
        Assert.Equal(0, code);
        var group = output.Split("\n\n").Single(g => g.StartsWith(aspect, StringComparison.Ordinal));
        Assert.Contains("  " + sentence + "\n", group + "\n", StringComparison.Ordinal);
    }

    /// <summary>A fingerprint that moves always has a sentence, and one that stays never has.</summary>
    [Theory]
    [InlineData("spans", "task hops\n  count hops 0 to 9\n")]
    [InlineData("kiss", "task kiss \"Kiss\"\n  contact none\n  say \"x\"\n  rate three\n")]
    public void Nothing_that_moves_a_fingerprint_goes_unsaid(string _, string more)
    {
        using var sandbox = new Sandbox();
        var edited = more.StartsWith("task kiss", StringComparison.Ordinal)
            ? Old.Replace(
                "task kiss \"Kiss\"\n  say  \"Make a kiss.\"\n  rate three\n",
                more,
                StringComparison.Ordinal
            )
            : Old + more;
        var (_, output) = Compare(edited, ["--format", "json"]);
        var root = JsonDocument.Parse(output).RootElement;
        foreach (var aspect in new[] { "form", "administration", "interpretation" })
        {
            var moved = Print(root, "old", aspect) != Print(root, "new", aspect);
            Assert.Equal(moved, root.GetProperty(aspect).GetArrayLength() > 0);
        }
    }

    /// <summary>By hand: two points are as expected before, and look-again after; four stay as expected.</summary>
    [Fact]
    public void Records_tell_who_has_to_be_looked_at_again()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write("records/one.yaml", Record);
        Sandbox.Write(
            "records/two.yaml",
            Record
                .Replace("C-1", "C-2", StringComparison.Ordinal)
                .Replace("rate: 1", "rate: 2", StringComparison.Ordinal)
        );
        Sandbox.Write(
            "records/three.yaml",
            Record
                .Replace("C-1", "C-3", StringComparison.Ordinal)
                .Replace("kiss.rate: 1", "kiss.rate: 7", StringComparison.Ordinal)
        );
        var edited = Old.Replace("0 to 1      2 to 4", "0 to 2      3 to 4", StringComparison.Ordinal);
        var (code, output) = Compare(edited, ["--records", "records"]);
        Assert.Equal(0, code);
        Assert.Contains(
            "Records: 3, of which 1 change a band or an action",
            output,
            StringComparison.Ordinal
        );
        Assert.Contains("Lips: look-again instead of as-expected.", output, StringComparison.Ordinal);
        Assert.Contains("three.yaml was left out.", output, StringComparison.Ordinal);
        Assert.EndsWith(
            "To be looked at again: 1\n  C-1: Screen again instead of No action\n",
            output,
            StringComparison.Ordinal
        );
    }

    /// <summary>By hand: of the nine sheets three come to two points: 2 and 0, 0 and 2, 1 and 1.</summary>
    [Fact]
    public void All_records_a_child_can_come_to_are_counted()
    {
        using var sandbox = new Sandbox();
        var (_, output) = Compare(
            Old.Replace("0 to 1      2 to 4", "0 to 2      3 to 4", StringComparison.Ordinal),
            []
        );
        Assert.Contains(
            "Lips at 4;0 to 5;11: look-again instead of as-expected in 3 of 9 complete records.",
            output,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "Headline at 4;0 to 5;11: Screen again instead of No action in 3 of 9 complete records. To be looked at again:",
            output,
            StringComparison.Ordinal
        );
        Assert.Contains("kiss.rate: 2\n      smile.rate: 0\n", output, StringComparison.Ordinal);
    }

    [Fact]
    public void Another_bound_leaves_no_record_to_lay_beside_both()
    {
        using var sandbox = new Sandbox();
        var (_, output) = Compare(
            Old.Replace("  2 \"Full.\"\n", "  3 \"More.\"\n  2 \"Full.\"\n", StringComparison.Ordinal)
                .Replace("2 to 4", "2 to 6", StringComparison.Ordinal),
            []
        );
        Assert.Contains("don't ask for the same answers", output, StringComparison.Ordinal);
    }

    [Fact]
    public void What_becomes_milder_is_no_recall()
    {
        using var sandbox = new Sandbox();
        Sandbox.Write("one.yaml", Record.Replace("smile.rate: 1", "smile.rate: 0", StringComparison.Ordinal));
        var edited = Old.Replace("0 to 1      2 to 4", "0           1 to 4", StringComparison.Ordinal);
        var (_, output) = Compare(edited, ["--records", "one.yaml"]);
        Assert.Contains("Lips: as-expected instead of look-again.", output, StringComparison.Ordinal);
        Assert.EndsWith("To be looked at again: none\n", output, StringComparison.Ordinal);
    }

    [Fact]
    public void Errors_in_either_are_told_and_nothing_is_compared()
    {
        using var sandbox = new Sandbox();
        var (code, output) = Compare(Old + "taks x\n", []);
        Assert.Equal(1, code);
        Assert.Empty(output);
    }

    [Fact]
    public void The_example_has_a_whole_translation()
    {
        using var sandbox = new Sandbox();
        const string Example = "library/quillmere/quillmere-screen.protocol";
        var (code, output, messages) = Sandbox.Run(
            "build",
            Example,
            "-o",
            "out",
            "--language",
            "de",
            "--only",
            "cue-cards,record-sheet",
            "--no-pdf"
        );
        Assert.True(code == 0, messages + output);
        var cards = File.ReadAllText("out/cue-cards.html");
        Assert.Contains("Mach einen Kussmund.", cards, StringComparison.Ordinal);
        Assert.DoesNotContain("Make kissing lips.", cards, StringComparison.Ordinal);
        Assert.Equal(1, Sandbox.Run("build", Example, "-o", "out", "--language", "tr").Code);
    }

    private static string Print(JsonElement root, string edition, string aspect) =>
        root.GetProperty(edition).GetProperty("fingerprints").GetProperty(aspect).GetString()!;

    private static (int Code, string Output) Compare(string edited, string[] more)
    {
        Sandbox.Write("old.protocol", Old);
        Sandbox.Write("new.protocol", edited);
        var (code, output, _) = Sandbox.Run(["compare", "old.protocol", "new.protocol", .. more]);
        return (code, output);
    }
}
