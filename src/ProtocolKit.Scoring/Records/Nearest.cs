namespace ProtocolKit.Scoring;

/// <summary>Finds what a person most likely meant to write.</summary>
internal static class Nearest
{
    private const int LongestKey = 120;

    /// <summary>The nearest known word within a third of the longer word's length, or nothing.</summary>
    public static string? To(string typed, IEnumerable<string> known)
    {
        if (typed.Length is 0 or > LongestKey)
        {
            return null;
        }

        string? best = null;
        var least = int.MaxValue;
        foreach (var word in known)
        {
            var allowed = Math.Max(1, Math.Max(typed.Length, word.Length) / 3);
            if (Math.Abs(word.Length - typed.Length) > allowed)
            {
                continue;
            }

            var distance = Distance(typed, word);
            if (distance < least && distance <= allowed)
            {
                (best, least) = (word, distance);
            }
        }

        return best;
    }

    /// <summary>
    /// The fewest letters added, left out, changed, or swapped with their neighbour (optimal string
    /// alignment; from memory).
    /// </summary>
    internal static int Distance(string a, string b)
    {
        var before = new int[b.Length + 1];
        var last = Enumerable.Range(0, b.Length + 1).ToArray();
        var row = new int[b.Length + 1];
        for (var i = 1; i <= a.Length; i++)
        {
            row[0] = i;
            for (var j = 1; j <= b.Length; j++)
            {
                var change = a[i - 1] == b[j - 1] ? 0 : 1;
                row[j] = Math.Min(Math.Min(row[j - 1], last[j]) + 1, last[j - 1] + change);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    row[j] = Math.Min(row[j], before[j - 2] + 1);
                }
            }

            (before, last, row) = (last, row, before);
        }

        return last[b.Length];
    }
}
