using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>Letters and notes: every placeholder is one that can be filled, and no score reaches a letter.</summary>
internal static class ReportTextBinder
{
    private const string Scores = "scores in words";

    private static readonly string[] Placeholders =
    [
        "child",
        "case",
        "seen",
        "age",
        "examiner",
        "title",
        "edition",
        "actions in words",
        Scores,
        "untried in words",
        "strengths in words",
    ];

    public static ReportText Bind(ReportTextBlock block, DiagnosticBag diagnostics)
    {
        foreach (var line in block.Paragraphs)
        {
            foreach (var name in PlaceholdersOf(line.Text.Text))
            {
                if (!Placeholders.Contains(name, StringComparer.Ordinal))
                {
                    var known = Placeholders.Where(p => p != Scores || block.Keyword.Text != "letter");
                    diagnostics.Report(
                        line.Source,
                        PlaceholderPlaces.Of(line.Source, line.Text, name),
                        NameMessages.Placeholder(name, known)
                    );
                }
                else if (name == Scores && block.Keyword.Text == "letter")
                {
                    diagnostics.Report(
                        line.Source,
                        PlaceholderPlaces.Of(line.Source, line.Text, name),
                        CareMessages.LetterScores(name)
                    );
                }
            }
        }

        if (block.Paragraphs.Count == 0 && !block.Incomplete)
        {
            diagnostics.Report(
                block.Source,
                block.Place,
                MeaningMessages.Missing(
                    "This text is empty.",
                    "Write its paragraphs under it, each in quotes."
                )
            );
        }

        return new ReportText(
            block.Audience.Text,
            [.. block.Paragraphs.Select(p => p.Text.Text)],
            block.Source.OriginOf(block.Place)
        );
    }

    private static IEnumerable<string> PlaceholdersOf(string text)
    {
        var from = 0;
        while (true)
        {
            var open = text.IndexOf('{', from);
            var close = open < 0 ? -1 : text.IndexOf('}', open);
            if (close < 0)
            {
                yield break;
            }

            yield return text[(open + 1)..close];
            from = close + 1;
        }
    }
}
