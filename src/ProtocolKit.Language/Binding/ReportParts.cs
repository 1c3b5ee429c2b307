using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Takes a report's text apart: plain text, and placeholders in braces, each with what stands in for it after the word
/// <c>otherwise</c>: <c>{examiner otherwise the clinic}</c>. Quotes around the alternative may be written and fall away.
/// </summary>
internal static class ReportParts
{
    private const string Otherwise = " otherwise ";

    public static IReadOnlyList<TextPart> Split(string text)
    {
        var parts = new List<TextPart>();
        var from = 0;
        while (from < text.Length)
        {
            var open = text.IndexOf('{', from);
            var close = open < 0 ? -1 : text.IndexOf('}', open);
            if (close < 0)
            {
                parts.Add(new TextPart(false, text[from..], null));
                break;
            }

            if (open > from)
            {
                parts.Add(new TextPart(false, text[from..open], null));
            }

            parts.Add(Placeholder(text[(open + 1)..close]));
            from = close + 1;
        }

        return parts;
    }

    /// <summary>
    /// The text with its paragraphs taken apart and passages put in: a passage alone in a paragraph brings its own
    /// paragraphs, one in the middle of a paragraph its words.
    /// </summary>
    public static ReportText In(ReportText text, Func<string, ReportText?> passage)
    {
        return text with { Parts = [.. text.Paragraphs.SelectMany(Paragraphs)] };

        ReportText? Find(TextPart part) =>
            part.IsPlaceholder && text.Kind != ReportKind.Piece ? passage(part.Text) : null;

        IEnumerable<ReportParagraph> Paragraphs(WrittenParagraph paragraph)
        {
            var parts = Split(paragraph.Text);
            return parts.Count == 1 && Find(parts[0]) is { } whole
                ? whole.Parts.Select(p =>
                    p.Audience > paragraph.Audience ? p : p with { Audience = paragraph.Audience }
                )
                : [new ReportParagraph(paragraph.Audience, [.. parts.SelectMany(Inline)])];
        }

        IEnumerable<TextPart> Inline(TextPart part) =>
            Find(part) is { } inside
                ? inside.Parts.SelectMany(
                    (p, i) => i == 0 ? p.Parts : [new TextPart(false, " ", null), .. p.Parts]
                )
                : [part];
    }

    private static TextPart Placeholder(string inside)
    {
        var at = inside.IndexOf(Otherwise, StringComparison.Ordinal);
        return at < 0
            ? new TextPart(true, inside.Trim(), null)
            : new TextPart(true, inside[..at].Trim(), inside[(at + Otherwise.Length)..].Trim().Trim('"'));
    }
}

/// <summary>The words for who may read a text.</summary>
internal static class Audiences
{
    public static Audience? Of(string? word) =>
        word switch
        {
            "caregiver" => Audience.Caregiver,
            "team" => Audience.Team,
            "team-only" => Audience.TeamOnly,
            _ => null,
        };
}
