using System.Text.RegularExpressions;
using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>No text of a protocol becomes markup, style or template, wherever it stands.</summary>
public partial class EscapingTests
{
    public static TheoryData<string> Texts =>
        new(
            "</script><script>alert(1)</script>",
            "\"><img src=x onerror=alert(1)>",
            "' onload='alert(1)",
            "</style><b>",
            "<!-- ",
            "]]></title><h1>",
            "{{ 6 * 7 }}",
            "{{ include 'paper/base.css' }}",
            "&lt;b&gt;",
            "\\\"; } body { display: none } ",
            "a\0b\u202Ec"
        );

    [Theory]
    [MemberData(nameof(Texts))]
    public void A_hostile_text_changes_no_markup(string hostile)
    {
        var harmless = new string('i', hostile.Length);
        foreach (var output in Outputs.All.Where(o => o is not null && IsPaper(o)))
        {
            var bad = output.Render(HostileProtocol.Of(hostile), Options(hostile), TemplateSource.BuiltIn);
            var good = output.Render(HostileProtocol.Of(harmless), Options(harmless), TemplateSource.BuiltIn);
            foreach (var (b, g) in bad.Zip(good))
            {
                // How many cards a text takes depends on its width, so kinds of tags are compared, not their number;
                // and the last sheet of cards may have an empty place.
                Assert.Empty(
                    Tags(b.Text, hostile).Except(Tags(g.Text, harmless)).Except(["<div class=\"card\">"])
                );
                Assert.Equal(Style(g.Text), Style(b.Text));
                Assert.Contains(HtmlContext.Escape(hostile), b.Text, StringComparison.Ordinal);
            }
        }
    }

    private static bool IsPaper(IOutput output) =>
        output.Kind is "record-sheet" or "cue-cards" or "case-history" or "manual";

    private static OutputOptions Options(string code) => new() { RecordCode = code };

    /// <summary>Every different tag; where a text stands in an attribute, it is taken out first.</summary>
    private static SortedSet<string> Tags(string html, string text)
    {
        var escaped = HtmlContext.Escape(text);
        return new(
            TagPattern()
                .Matches(html)
                .Select(m => m.Value.Replace(escaped, "TEXT", StringComparison.Ordinal)),
            StringComparer.Ordinal
        );
    }

    /// <summary>The style sheet without its strings; a string that could be closed would leave its rest behind.</summary>
    private static string Style(string html)
    {
        var style = html[(html.IndexOf("<style>", StringComparison.Ordinal) + 7)..];
        return CssString().Replace(style[..style.IndexOf("</style>", StringComparison.Ordinal)], "STRING");
    }

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex TagPattern();

    [GeneratedRegex("\"[^\"\\n]*\"")]
    private static partial Regex CssString();
}
