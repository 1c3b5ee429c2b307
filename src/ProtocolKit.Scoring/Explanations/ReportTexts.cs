using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Fills a letter or a note: placeholders with their values, and where a value is missing what the text says instead. The
/// result is plain text: whoever prints it escapes it.
/// </summary>
public static class ReportTexts
{
    /// <param name="text">A letter or a note.</param>
    /// <param name="reader">Paragraphs for a narrower circle are left out.</param>
    /// <param name="values">By the placeholder's name; missing or empty: the alternative stands in.</param>
    /// <returns>Paragraphs; one that came out empty is left out.</returns>
    /// <exception cref="ArgumentException">The text is not for this reader.</exception>
    public static IReadOnlyList<string> Fill(
        ReportText text,
        Audience reader,
        IReadOnlyDictionary<string, string> values
    )
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(values);
        if (text.Audience > reader)
        {
            throw new ArgumentException("This text is not meant for this reader.", nameof(reader));
        }

        return
        [
            .. text
                .Parts.Where(p => p.Audience <= reader)
                .Select(p => Fill(p, values))
                .Where(p => p.Length > 0),
        ];
    }

    /// <summary>One paragraph, for whoever has asked already that it is for this reader.</summary>
    internal static string Fill(ReportParagraph paragraph, IReadOnlyDictionary<string, string> values)
    {
        var filled = new StringBuilder();
        foreach (var part in paragraph.Parts)
        {
            filled.Append(
                !part.IsPlaceholder ? part.Text
                : values.TryGetValue(part.Text, out var value) && value.Length > 0 ? value
                : part.Otherwise ?? ""
            );
        }

        return filled.ToString().Trim();
    }
}
