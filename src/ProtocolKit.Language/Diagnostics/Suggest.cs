namespace ProtocolKit.Language.Diagnostics;

/// <summary>The nearest known spelling of a word.</summary>
internal static class Suggest
{
    /// <summary>The candidate with the fewest edits, if few enough for a slip of the hand; else null.</summary>
    public static string? Nearest(string word, IEnumerable<string> candidates)
    {
        if (word.Length > 60)
        {
            return null;
        }

        string? best = null;
        var fewest =
            word.Length switch
            {
                < 2 => 0,
                < 6 => 1,
                _ => word.Length / 3,
            } + 1;
        foreach (var candidate in candidates)
        {
            if (Math.Abs(candidate.Length - word.Length) >= fewest)
            {
                continue;
            }

            var edits = Edits(word, candidate);
            if (edits < fewest)
            {
                fewest = edits;
                best = candidate;
            }
        }

        return best;
    }

    /// <summary>Optimal string alignment distance: insert, delete, replace, swap neighbours.</summary>
    private static int Edits(string a, string b)
    {
        var rows = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++)
        {
            rows[i, 0] = i;
        }

        for (var j = 0; j <= b.Length; j++)
        {
            rows[0, j] = j;
        }

        for (var i = 1; i <= a.Length; i++)
        {
            for (var j = 1; j <= b.Length; j++)
            {
                var same = char.ToLowerInvariant(a[i - 1]) == char.ToLowerInvariant(b[j - 1]) ? 0 : 1;
                rows[i, j] = Math.Min(
                    Math.Min(rows[i - 1, j], rows[i, j - 1]) + 1,
                    rows[i - 1, j - 1] + same
                );
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    rows[i, j] = Math.Min(rows[i, j], rows[i - 2, j - 2] + 1);
                }
            }
        }

        return rows[a.Length, b.Length];
    }
}
