using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Tests.Meaning;

/// <summary>Translations: every text, the same placeholders, other fingerprints, and cut-offs that are a first guess.</summary>
public sealed class TranslationTests
{
    private const string Text = """
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
        task open "Open"
          say  "Open."
          rate three
        score k "Both" = kiss + open
        cut-offs k
          ages         low     high
          4;0 to 5;11  0 to 1  2 to 4
          basis published "An invented source"
        letter caregiver
          "Seen on {seen} by {examiner otherwise us}."

        """;

    private const string German = """
        translation tiny to de
          status unreviewed "Invented."
        text "Tiny"
          becomes "Winzig"
        text "Full."
          becomes "Ganz."
        text "Part."
          becomes "Zum Teil."
        text "None."
          becomes "Gar nicht."
        text "Kiss"
          becomes "Kuss"
        text "Open"
          becomes "Offen"
        text "Make a kiss."
          becomes "Mach einen Kuss."
        text "Open."
          becomes "Mach auf."
        text "Both"
          becomes "Beides"
        text "Low"
          becomes "Niedrig"
        text "High"
          becomes "Hoch"
        text "An invented source"
          becomes "Eine erfundene Quelle"
        text "Seen on {seen} by {examiner otherwise us}."
          becomes "Gesehen von {examiner otherwise uns} am {seen}."

        """;

    [Fact]
    public void Every_text_is_put_in_and_every_name_stays()
    {
        var (original, german) = (Tiny.Protocol(Text), Translated(German).Protocol!);
        Assert.Equal("Winzig", german.Title);
        Assert.Equal("de", german.Language);
        Assert.Equal(["Mach einen Kuss."], german.Tasks[0].Variants[0].Say);
        Assert.Equal("Zum Teil.", german.Tasks[0].Responses[0].Scale!.Levels[1].Text);
        Assert.Equal("Zum Teil.", german.Program.Answers[0].Response.Scale!.Levels[1].Text);
        Assert.Equal("Niedrig", german.Program.Bands[0].Table.Bands[0].Text);
        Assert.Equal("uns", german.Texts[0].Parts[0].Parts[1].Otherwise);
        Assert.Equal(original.Tasks.Select(t => t.Name), german.Tasks.Select(t => t.Name));
        Assert.Equal(original.Program.Lines.Select(l => l.Name), german.Program.Lines.Select(l => l.Name));
        Assert.Equal(new TranslationNote("en", "Invented.", false, null), german.Translated);
    }

    [Fact]
    public void Another_form_and_the_same_administration()
    {
        var (original, german) = (
            Tiny.Protocol(Text).Fingerprints,
            Translated(German).Protocol!.Fingerprints
        );
        Assert.NotEqual(original.Form, german.Form);
        Assert.Equal(original.Administration, german.Administration);
    }

    [Fact]
    public void Cut_offs_are_provisional_until_shown()
    {
        Assert.False(Tiny.Protocol(Text).CutOffs[0].Basis.IsProvisional);
        var german = Translated(German).Protocol!;
        Assert.True(german.CutOffs[0].Basis.IsProvisional);
        Assert.True(german.Program.Bands[0].Table.Basis.IsProvisional);
        var shown = Translated(
            German.Replace(
                "  status unreviewed \"Invented.\"\n",
                "  status reviewed \"By two people.\"\n  cut-offs shown \"Pilot of 120 children.\"\n",
                StringComparison.Ordinal
            )
        ).Protocol!;
        Assert.False(shown.CutOffs[0].Basis.IsProvisional);
        Assert.True(shown.Translated!.IsReviewed);
    }

    [Fact]
    public void A_text_may_become_something_else_in_one_task()
    {
        var german = Translated(German + "text \"Part.\" in open\n  becomes \"Halb.\"\n");
        Assert.False(german.HasErrors, Tiny.Rendered(german));

        // A level belongs to its scale, which both tasks share: only texts of the task itself differ.
        var other = Translated(German + "text \"Open.\" in open\n  becomes \"Auf.\"\n");
        Assert.Equal(["Auf."], other.Protocol!.Tasks[1].Variants[0].Say);
    }

    [Theory]
    [InlineData("text \"Open.\"\n  becomes \"Mach auf.\"\n", "", "PK3062")]
    [InlineData("translation tiny to", "translation tidy to", "PK3061")]
    [InlineData("tiny to de", "tiny to en", "PK4060")]
    [InlineData("{examiner otherwise uns} am {seen}", "uns am {age}", "PK3064")]
    [InlineData("  status unreviewed \"Invented.\"\n", "", "PK4016")]
    [InlineData("  becomes \"Mach auf.\"\n", "", "PK4016")]
    [InlineData("  becomes \"Mach auf.\"\n", "  becomes \"Mach auf.\"\n  becomes \"Auf.\"\n", "PK4015")]
    [InlineData("text \"Both\"", "txet \"Both\"", "PK2001")]
    [InlineData("translation tiny", "language 3\ntranslation tiny", "PK4018")]
    public void What_is_missing_or_differs_is_an_error(string old, string edited, string code)
    {
        Assert.Contains(old, German, StringComparison.Ordinal);
        var compilation = Translated(German.Replace(old, edited, StringComparison.Ordinal));
        Assert.Equal(
            [code],
            compilation.Diagnostics.Where(d => d.Severity == Severity.Error).Select(d => d.Code).Distinct()
        );
    }

    /// <summary>The original was changed: its old translation is no translation of the new words.</summary>
    [Fact]
    public void A_changed_text_is_asked_for_again()
    {
        var changed = Tiny.Compile(
            Text.Replace("Make a kiss.", "Make kissing lips.", StringComparison.Ordinal)
        );
        var compilation = changed.Translated(new SourceText("tiny.de.translation", German));
        Assert.Equal(["PK3062", "PK3063"], compilation.Diagnostics.Select(d => d.Code).Order());
        Assert.Contains("Make kissing lips.", Tiny.Rendered(compilation), StringComparison.Ordinal);
    }

    [Fact]
    public void A_long_spoken_line_is_told_in_the_translation_too()
    {
        var compilation = Translated(
            German.Replace(
                "\"Mach auf.\"",
                "\"Mach " + string.Join(' ', Enumerable.Repeat("weit", 12)) + " auf.\"",
                StringComparison.Ordinal
            )
        );
        Assert.Equal(["PK5004"], compilation.Diagnostics.Select(d => d.Code));
    }

    private static Compilation Translated(string translation) =>
        Tiny.Compile(Text).Translated(new SourceText("tiny.de.translation", translation), null);
}
