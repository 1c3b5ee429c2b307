namespace ProtocolKit.Workspace.Comparing;

/// <summary>Pairs things of two editions by their names.</summary>
internal static class Matching
{
    /// <summary>In the order of the new edition, what was taken out after it.</summary>
    public static IEnumerable<(T? Old, T? New)> Pairs<T>(
        IEnumerable<T> old,
        IEnumerable<T> @new,
        Func<T, string> name
    )
        where T : class
    {
        var before = old.DistinctBy(name).ToDictionary(name, StringComparer.Ordinal);
        var after = @new.DistinctBy(name).ToList();
        foreach (var one in after)
        {
            yield return (before.GetValueOrDefault(name(one)), one);
        }

        var kept = after.Select(name).ToHashSet(StringComparer.Ordinal);
        foreach (var (key, one) in before)
        {
            if (!kept.Contains(key))
            {
                yield return (one, null);
            }
        }
    }

    /// <summary>Names that stand in another place among those both editions have: the fewest that, moved, explain it.</summary>
    public static IReadOnlyList<(string Name, string? After)> Moved(
        IReadOnlyList<string> old,
        IReadOnlyList<string> @new
    )
    {
        var inNew = @new.ToHashSet(StringComparer.Ordinal);
        var places = old.Where(inNew.Contains)
            .Select((n, i) => (n, i))
            .ToDictionary(p => p.n, p => p.i, StringComparer.Ordinal);
        var common = @new.Where(places.ContainsKey).ToList();
        var stay = LongestRise([.. common.Select(n => places[n])]);
        return
        [
            .. common
                .Select((n, i) => (Name: n, After: i == 0 ? null : common[i - 1], Stays: stay.Contains(i)))
                .Where(m => !m.Stays)
                .Select(m => (m.Name, m.After)),
        ];
    }

    public static string Quote(string text) => $"“{text}”";

    public static string Quote(IEnumerable<string> texts) =>
        string.Join(" ", texts) is { Length: > 0 } joined ? Quote(joined) : "nothing";

    public static string OrNothing(string? text) => string.IsNullOrEmpty(text) ? "nothing" : Quote(text);

    public static string List(IEnumerable<string> items)
    {
        var all = items.ToList();
        return all.Count < 2
            ? string.Concat(all)
            : $"{string.Join(", ", all.Take(all.Count - 1))} and {all[^1]}";
    }

    /// <summary>A rule with single spaces, so that its layout makes no change.</summary>
    public static string Spaced(string rule) =>
        string.Join(' ', rule.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static HashSet<int> LongestRise(IReadOnlyList<int> values)
    {
        var length = new int[values.Count];
        var before = new int[values.Count];
        var best = -1;
        for (var i = 0; i < values.Count; i++)
        {
            (length[i], before[i]) = (1, -1);
            for (var j = 0; j < i; j++)
            {
                if (values[j] < values[i] && length[j] + 1 > length[i])
                {
                    (length[i], before[i]) = (length[j] + 1, j);
                }
            }

            best = best < 0 || length[i] > length[best] ? i : best;
        }

        var rise = new HashSet<int>();
        for (var i = best; i >= 0; i = before[i])
        {
            rise.Add(i);
        }

        return rise;
    }
}
