using System.Text;

namespace ProtocolKit.Language.Tests.Formatting;

/// <summary>
/// Spoils the layout of a text without changing what it says: other widths of indentation, more spaces between words, other line
/// ends. Spaces stay as they are in rows of tables, where two of them split cells.
/// </summary>
internal static class Mess
{
    public static string Of(string text, int seed)
    {
        var random = new Random(seed);
        var level = random.Next(1, 6);
        var end = random.Next(2) == 0 ? "\n" : "\r\n";
        var messy = new StringBuilder();
        foreach (var line in text.TrimEnd('\n').Split('\n'))
        {
            var content = line.TrimStart(' ');
            var depth = (line.Length - content.Length) / 2;
            messy.Append(content.Length == 0 ? "" : new string(' ', depth * level));
            messy.Append(content.StartsWith('#') || IsRow(content) ? content : Stretched(content, random));
            messy.Append(' ', random.Next(3)).Append(end);
        }

        return messy.ToString();
    }

    private static bool IsRow(string content) =>
        char.IsAsciiDigit(content.FirstOrDefault())
        || content.StartsWith("ages", StringComparison.Ordinal)
        || content.StartsWith("raw", StringComparison.Ordinal);

    private static string Stretched(string content, Random random)
    {
        var text = new StringBuilder();
        var isQuoted = false;
        foreach (var c in content)
        {
            isQuoted ^= c == '"';
            text.Append(c);
            if (c == ' ' && !isQuoted && random.Next(3) == 0)
            {
                text.Append(' ', random.Next(1, 4));
            }
        }

        return text.ToString();
    }
}
