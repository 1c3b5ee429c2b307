using System.Globalization;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Reports;

/// <summary>
/// The letter to the family: one page. It bears no case code, since the child's name may stand on it, and only the slip links the two.
/// </summary>
public static class LetterPage
{
    private const double Margin = 22;
    private const double LargeType = 12;
    private const double SmallType = 11;
    private const double LetterheadLine = 5.2;
    private const double Frame = 46;

    /// <exception cref="OutputRefusedException">The letter is longer than a page.</exception>
    /// <exception cref="TemplateFaultException">A template is at fault.</exception>
    public static Artefact Render(CaregiverLetter letter, OutputOptions options, TemplateSource templates)
    {
        ArgumentNullException.ThrowIfNull(letter);
        ArgumentNullException.ThrowIfNull(options);
        return new(
            $"letter-{FileNames.Safe(letter.Case)}.html",
            TemplateRenderer.Html(templates, "letter/letter.html", View(letter, options)),
            true
        )
        {
            Purpose = $"letter to the family of case {letter.Case}",
        };
    }

    internal static LetterView View(CaregiverLetter letter, OutputOptions options)
    {
        var frame = ReportFrame.Of(letter.Protocol, "Letter", "", options);
        return new(
            frame,
            letter.Paragraphs,
            Know(letter),
            letter.Own.GetValueOrDefault(LetterSentences.Call, CaregiverTexts.CallToday),
            letter.Own.GetValueOrDefault(LetterSentences.Sign, CaregiverTexts.Sign),
            Size(letter, frame, options)
        );
    }

    private static List<string> Know(CaregiverLetter letter) =>
        [.. CaregiverTexts.After.Select(s => letter.Own.GetValueOrDefault(s.Name, s.Text))];

    /// <summary>The larger type where the page holds it, else the smaller, else no letter.</summary>
    private static string Size(CaregiverLetter letter, FrameView frame, OutputOptions options)
    {
        var paper = PaperGeometry.Of(options.Paper);
        foreach (var points in new[] { LargeType, SmallType })
        {
            if (Height(letter, frame, points, paper.Width - (2 * Margin)) <= paper.Height - (2 * Margin))
            {
                return string.Create(CultureInfo.InvariantCulture, $"{points}pt");
            }
        }

        var longest = letter.Paragraphs.MaxBy(p => p.Length) ?? "";
        throw new OutputRefusedException(
            $"The letter is longer than its one page. Shorten it; its longest paragraph begins “{Start(longest)}”."
        );
    }

    private static double Height(CaregiverLetter letter, FrameView frame, double points, double width)
    {
        var gap = TextMeasure.Height(1, points) * 0.5;
        var texts = letter.Paragraphs.Sum(p =>
            TextMeasure.Height(TextMeasure.Lines(p, points, width), points) + gap
        );
        var known = Know(letter)
            .Append(letter.Own.GetValueOrDefault(LetterSentences.Call, CaregiverTexts.CallToday))
            .Sum(t => TextMeasure.Height(TextMeasure.Lines(t, points, width - 14), points) + 1);
        var head = frame.Letterhead is { } own
            ? 6 + ((1 + own.Lines.Count + (own.Call.Length > 0 ? 1 : 0)) * LetterheadLine)
            : 0;
        return texts + known + head + Frame;
    }

    private static string Start(string text) => text.Length <= 40 ? text : text[..40].TrimEnd() + "…";
}

/// <summary>What the template of the letter sees.</summary>
/// <param name="Frame">Letterhead, page and foot.</param>
/// <param name="Paragraphs">The letter’s own text, with the name filled in.</param>
/// <param name="Know">What a family should know of any screen.</param>
/// <param name="CallToday">When not to wait.</param>
/// <param name="Sign">Below the line to sign on.</param>
/// <param name="Size">Of the type, chosen so that the letter fits its page.</param>
public sealed record LetterView(
    FrameView Frame,
    IReadOnlyList<string> Paragraphs,
    IReadOnlyList<string> Know,
    string CallToday,
    string Sign,
    string Size
);
