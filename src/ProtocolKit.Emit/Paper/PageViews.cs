using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>What the style sheet of a paged output needs: lengths, and the strings of its footer.</summary>
internal static class PageViews
{
    /// <summary>A longer edition name would push the legend off the footer.</summary>
    private const int LongestEdition = 30;

    public static PageView Of(Protocol protocol, OutputOptions options, bool legend = true)
    {
        var paper = PaperGeometry.Of(options.Paper);
        var edition =
            protocol.Edition.Length > LongestEdition
                ? protocol.Edition[..LongestEdition] + "…"
                : protocol.Edition;
        var code = options.RecordCode is { Length: > 0 } given ? $"Record code: {given}" : "Record code";
        var text = $", edition {edition}, form {Words.Grouped(protocol.Fingerprints.Form)}";
        text = legend ? $"{text}\n{UntriedCodes.Legend}" : text;
        return new(
            paper.CssSize,
            PaperGeometry.Css(PaperGeometry.ClipMargin),
            PaperGeometry.Css(PaperGeometry.SideMargin),
            PaperGeometry.Css(PaperGeometry.FootMargin),
            HtmlContext.CssString(code),
            HtmlContext.CssString(text),
            options.LeftHanded
        );
    }
}
