using System.Text;
using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Cli.Reporting;

/// <summary>The page of an entry of the catalogue: what it means, a wrong and a right example.</summary>
internal static class FindingPage
{
    private const int LongestExample = 600;

    public static string Text(Descriptor entry)
    {
        var text = new StringBuilder(entry.Explanation).Append('\n');
        Example(text, "Not so:", entry.Wrong);
        Example(text, "But so:", entry.Right);
        return text.ToString().TrimEnd('\n');
    }

    public static string Markdown(Descriptor entry)
    {
        var text = new StringBuilder(entry.Explanation).Append('\n');
        Fence(text, "Not so:", entry.Wrong);
        Fence(text, "But so:", entry.Right);
        return text.ToString().TrimEnd('\n');
    }

    private static void Example(StringBuilder text, string heading, string example)
    {
        if (IsShown(example))
        {
            text.Append('\n').Append(heading).Append('\n');
            foreach (var line in Lines(example))
            {
                text.Append("  ").Append(line).Append('\n');
            }
        }
    }

    private static void Fence(StringBuilder text, string heading, string example)
    {
        if (IsShown(example))
        {
            text.Append('\n').Append(heading).Append("\n\n```\n");
            text.AppendJoin('\n', Lines(example)).Append("\n```\n");
        }
    }

    private static bool IsShown(string example) => example.Length is > 0 and <= LongestExample;

    private static IEnumerable<string> Lines(string example) =>
        example
            .Replace("\t", "<tab>", StringComparison.Ordinal)
            .Replace("\0", "<0>", StringComparison.Ordinal)
            .TrimEnd('\n')
            .Split('\n');
}
