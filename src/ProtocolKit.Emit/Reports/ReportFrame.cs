using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Reports;

/// <summary>What every page for reading needs: its language and titles, letterhead, paper and running foot.</summary>
/// <param name="Language">Of the texts, as HTML wants it: <c>en</c>.</param>
/// <param name="Heading">What the page is, such as <c>Team note</c>.</param>
/// <param name="Title">The protocol’s title.</param>
/// <param name="Edition">As the protocol gives it.</param>
/// <param name="Letterhead">Of the team; missing where the settings name none.</param>
/// <param name="Ink">Headings and rules; a checked colour.</param>
/// <param name="PageSize">As a style sheet wants it.</param>
/// <param name="Foot">A style sheet's string that stands beside the page number.</param>
public sealed record FrameView(
    string Language,
    string Heading,
    string Title,
    string Edition,
    LetterheadView? Letterhead,
    Raw Ink,
    string PageSize,
    Raw Foot
);

/// <param name="Name">Of the clinic or team.</param>
/// <param name="Lines">Below the name.</param>
/// <param name="Call">Whom to call.</param>
public sealed record LetterheadView(string Name, IReadOnlyList<string> Lines, string Call);

internal static class ReportFrame
{
    private const int LongestFoot = 60;

    /// <param name="foot">Beside the page number, such as the case code; cut where it is long.</param>
    public static FrameView Of(Protocol protocol, string heading, string foot, OutputOptions options)
    {
        var style = options.Style;
        var letterhead =
            style.Name.Length == 0 && style.Lines.Count == 0 && style.Call.Length == 0
                ? null
                : new LetterheadView(style.Name, style.Lines, style.Call);
        var shown = foot.Length > LongestFoot ? foot[..LongestFoot].TrimEnd() + "…" : foot;
        return new(
            protocol.Language,
            heading,
            protocol.Title,
            protocol.Edition,
            letterhead,
            new Raw(HouseStyle.IsInk(style.Ink) ? style.Ink : HouseStyle.Black),
            PaperGeometry.Of(options.Paper).CssSize,
            HtmlContext.CssString($", {shown}")
        );
    }
}
