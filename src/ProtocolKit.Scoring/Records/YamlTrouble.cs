using YamlDotNet.Core;

namespace ProtocolKit.Scoring;

/// <summary>Says in plain words why a text could not be read as YAML, from the line where reading ended.</summary>
internal static class YamlTrouble
{
    public static void Report(string text, Mark start, Mark end, ProblemList problems)
    {
        var lines = text.Split('\n');
        var row = (int)Math.Clamp(start.Line, 1, lines.Length);
        var (tabRow, tabColumn) = FirstTab(
            lines,
            Math.Max(0, row - 2),
            (int)Math.Clamp(end.Line + 1, row, lines.Length)
        );
        if (tabRow > 0)
        {
            problems.Add(
                problems.At(tabRow, tabColumn, 1),
                "",
                "A tab stands at the start of this line.",
                "Indent with spaces, two a level."
            );
            return;
        }

        var (message, mend) = Describe(lines[row - 1]);
        problems.Add(problems.At(row, Math.Max(1, start.Column)), "", message, mend);
    }

    private static (int Row, int Column) FirstTab(string[] lines, int from, int to)
    {
        for (var i = from; i < to; i++)
        {
            var indent = lines[i].Length - lines[i].TrimStart(' ', '\t').Length;
            var tab = lines[i].AsSpan(0, indent).IndexOf('\t');
            if (tab >= 0)
            {
                return (i + 1, tab + 1);
            }
        }

        return (0, 0);
    }

    private static (string Message, string Mend) Describe(string line)
    {
        var words = line.Trim();
        if (words.Count(c => c == '"') % 2 == 1)
        {
            return (
                "A quotation mark isn't closed here.",
                "End the text with the same mark, on the same line."
            );
        }

        var colon = words.IndexOf(':', StringComparison.Ordinal);
        if (colon < 0)
        {
            return (
                "This line has no colon, so nothing tells the key from its value.",
                "Write the key, a colon, a space and the value."
            );
        }

        if (colon + 1 < words.Length && words[colon + 1] != ' ')
        {
            return ("No space follows the colon here.", "Write the key, a colon, a space and the value.");
        }

        return (
            "From here on the record can't be read.",
            "Look for lines that don't stand under each other, a mark that isn't closed, or a text with a colon in it, which needs quotes."
        );
    }
}
