using System.Globalization;
using System.Text.Json;
using ProtocolKit.Emit.Code;

namespace ProtocolKit.Emit.Tests.Code;

public class CodeTextTests
{
    /// <summary>Every UTF-16 unit, on its own between letters. The escapes are JSON's too, so its reader is the judge.</summary>
    [Fact]
    public void A_quoted_text_reads_back_as_it_was()
    {
        for (var c = 0; c <= char.MaxValue; c++)
        {
            if (!char.IsSurrogate((char)c))
            {
                var text = $"a{(char)c}b";
                Assert.Equal(text, JsonSerializer.Deserialize<string>(CodeText.Quote(text).Text));
            }
        }

        const string pair = "x\U0001F600y";
        Assert.Equal(pair, JsonSerializer.Deserialize<string>(CodeText.Quote(pair).Text));
    }

    [Theory]
    [InlineData("</script>", "\"\\u003C/script>\"")]
    [InlineData("\"\\\n", "\"\\\"\\\\\\u000A\"")]
    public void What_could_leave_a_string_is_written_as_an_escape(string text, string expected) =>
        Assert.Equal(expected, CodeText.Quote(text).Text);

    /// <summary>A fact, as an attribute can't carry half a character.</summary>
    [Fact]
    public void Half_a_character_is_written_as_an_escape()
    {
        Assert.Equal("\"\\uD800\"", CodeText.Quote("\uD800").Text);
        Assert.Equal("\"\\uDC00\\uD800\"", CodeText.Quote("\uDC00\uD800").Text);
        Assert.Equal("a b", CodeText.Comment("a\uD800b").Text);
    }

    [Fact]
    public void Nothing_leaves_a_comment()
    {
        for (var c = 0; c <= char.MaxValue; c++)
        {
            var text = CodeText.Comment($"a{(char)c}b").Text;
            Assert.DoesNotContain(
                text,
                k =>
                    char.IsControl(k)
                    || char.GetUnicodeCategory(k)
                        is UnicodeCategory.LineSeparator
                            or UnicodeCategory.ParagraphSeparator
                            or UnicodeCategory.Format
                            or UnicodeCategory.Surrogate
            );
        }

        Assert.Equal("* / / * < /x> < !-- -- >", CodeText.Comment("*/ /* </x> <!-- -->").Text);
        Assert.Equal(
            "* / / * /",
            CodeText.Comment("*\u200B/ /\u0000*/").Text.Replace("  ", " ", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Long_comments_break_at_spaces()
    {
        var lines = CodeText.Comments(string.Join(' ', Enumerable.Repeat("word", 100)));

        Assert.Equal(6, lines.Count);
        Assert.All(lines, l => Assert.InRange(l.Text.Length, 1, 92));
    }
}
