namespace ProtocolKit.Emit.Code.Sql;

/// <summary>A column of the query: how it is worked out and which other columns it reads.</summary>
/// <param name="Name">As it is, without quotes.</param>
/// <param name="Comment">Limits and meaning; empty where there is nothing to say.</param>
internal sealed record SqlColumn(
    string Name,
    CodeLayout Code,
    string Comment,
    IReadOnlyCollection<string> Needs
);

/// <summary>Columns that are worked out together, from those of the level before.</summary>
/// <param name="Carried">Columns of the level before that later levels read.</param>
internal sealed record SqlLevel(IReadOnlyList<string> Carried, IReadOnlyList<SqlColumn> Columns);

/// <summary>
/// Sorts columns into levels, so that each reads only the level before: one level for each step of the longest
/// way from an answer to a result. What no later level reads is left behind.
/// </summary>
internal static class SqlLevels
{
    /// <param name="columns">Each after those it needs.</param>
    /// <param name="results">Needed at the end; they get a level of their own.</param>
    public static IReadOnlyList<SqlLevel> Of(
        IReadOnlyList<SqlColumn> columns,
        IReadOnlyList<SqlColumn> results
    )
    {
        var depths = Depths(columns);
        var last = depths.Values.DefaultIfEmpty(0).Max() + 1;
        var lastUse = LastUses(columns, results, depths, last);
        var byLevel = columns.ToLookup(c => depths[c.Name]);
        var levels = new List<SqlLevel>();
        for (var level = 0; level < last; level++)
        {
            levels.Add(
                new SqlLevel(
                    [
                        .. columns
                            .Where(c => depths[c.Name] < level && lastUse.GetValueOrDefault(c.Name) > level)
                            .Select(c => c.Name),
                    ],
                    [.. byLevel[level].Where(c => lastUse.ContainsKey(c.Name))]
                )
            );
        }

        levels.Add(new SqlLevel([], results));
        return levels;
    }

    public static Dictionary<string, int> Depths(IReadOnlyList<SqlColumn> columns)
    {
        var depths = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var column in columns)
        {
            depths.Add(column.Name, column.Needs.Count == 0 ? 0 : 1 + column.Needs.Max(n => depths[n]));
        }

        return depths;
    }

    private static Dictionary<string, int> LastUses(
        IReadOnlyList<SqlColumn> columns,
        IReadOnlyList<SqlColumn> results,
        Dictionary<string, int> depths,
        int last
    )
    {
        var uses = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var need in results.SelectMany(r => r.Needs))
        {
            uses[need] = last;
        }

        // From the end, so that a column is dropped where all that reads it is dropped.
        foreach (var column in columns.Reverse().Where(c => uses.ContainsKey(c.Name)))
        {
            foreach (var need in column.Needs)
            {
                uses[need] = Math.Max(uses.GetValueOrDefault(need), depths[column.Name]);
            }
        }

        return uses;
    }
}
