using System.Text;

namespace ProtocolKit.Fuzz;

/// <summary>Changes a text as a slip of the hand, a bad copy or a broken file would: one to four changes at a time.</summary>
/// <param name="pieces">Words and signs to put in.</param>
public sealed class Mutator(IReadOnlyList<string> pieces)
{
    private const int Longest = 20_000;
    private const string Odd = "()\"\\ \t\n\r.,;:-+*/<>=#{}[]%_'“”–0129xyzß\0\ud83d\u202e\u00a0\u2028";

    /// <summary>What a hand writes seldom and a program may stumble over.</summary>
    private static readonly string[] Extremes =
    [
        "9999999999999999999999999",
        "-9007199254740993",
        "0.0000000000000000001",
        "1e9",
        "999;99",
        "0 to 9007199254740991",
        "((((((((((((((((((((",
        "not not not not not not",
        "{{{{}}}}",
        "\\\"",
        "step 0",
        "trials 9999, keep first",
    ];

    /// <summary>One text from another. The same random source gives the same text.</summary>
    public string Change(string text, string other, Random random)
    {
        for (var n = random.Next(1, 5); n > 0; n--)
        {
            text = random.Next(2) == 0 ? Lines(text, other, random) : Characters(text, other, random);
        }

        return text.Length <= Longest ? text : text[..Longest];
    }

    private static string Lines(string text, string other, Random random)
    {
        var lines = text.Split('\n').ToList();
        var at = random.Next(lines.Count);
        var to = random.Next(lines.Count);
        switch (random.Next(6))
        {
            case 0:
                lines.RemoveAt(at);
                break;
            case 1:
                lines.Insert(to, lines[at]);
                break;
            case 2:
                (lines[at], lines[to]) = (lines[to], lines[at]);
                break;
            case 3:
                var strange = other.Split('\n');
                lines.Insert(at, strange[random.Next(strange.Length)]);
                break;
            case 4:
                lines[at] = random.Next(2) == 0 ? "  " + lines[at] : lines[at].TrimStart();
                break;
            default:
                lines[at] = SwapWords(lines[at], random);
                break;
        }

        return string.Join('\n', lines);
    }

    private static string SwapWords(string line, Random random)
    {
        var words = line.Split(' ');
        var (a, b) = (random.Next(words.Length), random.Next(words.Length));
        (words[a], words[b]) = (words[b], words[a]);
        return string.Join(' ', words);
    }

    private string Characters(string text, string other, Random random)
    {
        var start = random.Next(text.Length + 1);
        var size = Math.Min(random.Next(1, 30), text.Length - start);
        return random.Next(7) switch
        {
            0 => text.Remove(start, size),
            1 => text.Insert(random.Next(text.Length + 1), text.Substring(start, size)),
            2 => text.Remove(start, size).Insert(start, pieces[random.Next(pieces.Count)]),
            3 => text.Insert(start, " " + pieces[random.Next(pieces.Count)] + " "),
            4 => text.Insert(start, Odd[random.Next(Odd.Length)].ToString()),
            5 => text.Insert(start, Extremes[random.Next(Extremes.Length)]),
            _ => Spliced(text, other, start, random),
        };
    }

    /// <summary>A text up to some place, then another from some place; or a piece of it many times over.</summary>
    private static string Spliced(string text, string other, int start, Random random)
    {
        if (random.Next(2) == 0)
        {
            return text[..start] + other[random.Next(other.Length + 1)..];
        }

        var piece = text.Substring(start, Math.Min(8, text.Length - start));
        return text.Insert(start, new StringBuilder().Insert(0, piece, random.Next(2, 60)).ToString());
    }

    /// <summary>The words and signs met in some texts.</summary>
    public static Mutator From(IEnumerable<Seed> seeds) =>
        new([
            .. seeds
                .SelectMany(s => s.Text.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries))
                .Where(p => p.Length < 20)
                .Distinct(StringComparer.Ordinal)
                .Order(StringComparer.Ordinal),
        ]);
}
