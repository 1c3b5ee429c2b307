using System.Globalization;
using System.Text;

namespace ProtocolKit.Scoring;

/// <summary>Small habits of English.</summary>
internal static class Say
{
    private const int LongestQuote = 60;

    private static readonly string[] Words =
    [
        "no",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
    ];

    private static readonly string[] Ordinals =
    [
        "",
        "first",
        "second",
        "third",
        "fourth",
        "fifth",
        "sixth",
        "seventh",
        "eighth",
        "ninth",
        "tenth",
    ];

    /// <summary>Up to twelve in words, then in figures.</summary>
    public static string Count(int count) =>
        count < Words.Length ? Words[count] : count.ToString(CultureInfo.InvariantCulture);

    public static string Count(int count, string one, string many) =>
        $"{Count(count)} {(count == 1 ? one : many)}";

    public static string Ordinal(int number) =>
        number < Ordinals.Length
            ? Ordinals[number]
            : string.Create(CultureInfo.InvariantCulture, $"number {number}");

    /// <summary><c>a, b and c</c>.</summary>
    public static string List(IEnumerable<string> items, string last = "and")
    {
        var all = items.ToList();
        return all.Count < 2
            ? string.Concat(all)
            : $"{string.Join(", ", all.Take(all.Count - 1))} {last} {all[^1]}";
    }

    /// <summary>The same; with semicolons where a title has a comma of its own: <c>a; b, c; and d</c>.</summary>
    public static string Titles(IEnumerable<string> titles)
    {
        var all = titles.ToList();
        return all.Exists(t => t.Contains(',', StringComparison.Ordinal)) && all.Count > 1
            ? $"{string.Join("; ", all.Take(all.Count - 1))}; and {all[^1]}"
            : List(all);
    }

    /// <summary>A title inside a sentence: a leading capital goes, unless the word is all capitals.</summary>
    public static string Inside(string title) =>
        title.Length > 1 && char.IsUpper(title[0]) && !char.IsUpper(title[1]) && title[1] != ' '
            ? char.ToLowerInvariant(title[0]) + title[1..]
            : title;

    public static string Day(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    public static string Sentence(string text) =>
        text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>A word someone typed, short and of harmless signs, to be shown without quotes.</summary>
    public static string Word(string typed) =>
        string.Concat(
            typed.Trim().Take(LongestQuote).Where(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '.')
        );

    /// <summary>What someone typed, in quotes: short, on one line, and safe to show on a terminal.</summary>
    public static string Quote(string typed)
    {
        var shown = new StringBuilder();
        foreach (var c in typed.Length > LongestQuote ? typed[..LongestQuote] : typed)
        {
            shown.Append(char.IsControl(c) || char.IsSurrogate(c) ? ' ' : c);
        }

        return $"\"{shown}{(typed.Length > LongestQuote ? "…" : "")}\"";
    }
}
