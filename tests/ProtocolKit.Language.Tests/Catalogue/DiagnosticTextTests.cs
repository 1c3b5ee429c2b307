using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Catalogue;

/// <summary>The arrows stand under the words they mean, whatever stands before them.</summary>
public sealed class DiagnosticTextTests
{
    /// <summary>A Chinese character takes two columns of a terminal, one that is put over the letter before it none (UAX 11, wcwidth).</summary>
    [Theory]
    [InlineData("section s \"a\" extra", "section s \"a\" extra", "              ^^^^^")]
    [InlineData("section s \"口\" extra", "section s \"口\" extra", "               ^^^^^")]
    [InlineData("section s \"e\u0301\" extra", "section s \"e\u0301\" extra", "              ^^^^^")]
    [InlineData("section s \"\U0001F600\" extra", "section s \"\U0001F600\" extra", "               ^^^^^")]
    [InlineData("section s \"a\u200db\" extra", "section s \"ab\" extra", "               ^^^^^")]
    [InlineData("section\ts \"a\"", "section  s \"a\"", "       ^^")]
    [InlineData("section s \"שלום\" extra", "section s \"שלום\" extra", "here: extra")]
    [InlineData("section s \"a\" extra \"שלום\"", "section s \"a\" extra \"שלום\"", "              ^^^^^")]
    [InlineData("section s \"\u202eabc\" extra", "section s \"abc\" extra", "                ^^^^^")]
    public void Arrows_stand_under_the_place(string line, string shown, string marks)
    {
        var lines = DiagnosticText.Render(Found(line)).Split('\n');
        Assert.Equal(["    " + shown, "    " + marks], lines[2..4]);
    }

    [Fact]
    public void A_place_far_into_a_long_line_is_shown_with_what_stands_around_it()
    {
        var line = $"section s \"{new string('口', 300)}\" extra";
        var lines = DiagnosticText.Render(Found(line)).Split('\n');
        Assert.EndsWith("\" extra", lines[2], StringComparison.Ordinal);
        Assert.InRange(lines[2].Length, 20, 200);
        Assert.EndsWith("   ^^^^^", lines[3], StringComparison.Ordinal);
    }

    [Fact]
    public void Colours_change_no_character_besides()
    {
        var diagnostic = Found("taks a");
        var coloured = DiagnosticText.RenderInColour(diagnostic);
        Assert.StartsWith("\u001b[1;31merror PK2001\u001b[0m: ", coloured, StringComparison.Ordinal);
        var plain = System.Text.RegularExpressions.Regex.Replace(coloured, "\u001b\\[[0-9;]*m", "");
        Assert.Equal(DiagnosticText.Render(diagnostic), plain);
    }

    /// <summary>What is wrong with the line itself; that a header is missing is told besides.</summary>
    private static Diagnostic Found(string line) =>
        Tiny.Raw(line + "\n").Diagnostics.First(d => d.Message.Descriptor.Stage <= Stage.Line);
}
