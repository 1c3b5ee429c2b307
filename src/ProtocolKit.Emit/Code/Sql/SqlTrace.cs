using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>
/// Columns that say every field and line as one text, for verify. Lines of one depth are packed as soon as they are
/// there: no database holds as many columns as a program has lines.
/// </summary>
internal static class SqlTrace
{
    public const string Column = "trace";

    /// <summary>The packed columns, then the one that joins them.</summary>
    /// <param name="order">Field and line columns in the order in which the trace says them.</param>
    public static IReadOnlyList<SqlColumn> Of(
        IReadOnlyList<SqlColumn> columns,
        IReadOnlyList<string> fields,
        IReadOnlyList<(string Name, bool IsCondition)> lines,
        SqlDialect dialect,
        SqlNames names,
        out IReadOnlyList<string> order
    )
    {
        var depths = SqlLevels.Depths(columns);
        var all = fields.Select(f => (Name: f, IsCondition: false)).Concat(lines);
        var packed = new List<SqlColumn>();
        var said = new List<string>();
        foreach (var level in all.GroupBy(l => depths[l.Name]).OrderBy(g => g.Key))
        {
            foreach (var group in level.Chunk(400))
            {
                said.AddRange(group.Select(g => g.Name));
                packed.Add(
                    new SqlColumn(
                        names.Of("trace part"),
                        CodeLayout.Word(
                            SqlDialect.Concat([
                                .. group.SelectMany(g => new[] { AsText(g.Name, g.IsCondition), "','" }),
                            ])
                        ),
                        "",
                        [.. group.Select(g => g.Name)]
                    )
                );
            }
        }

        order = said;
        return packed;

        string AsText(string name, bool isCondition) =>
            isCondition
                ? $"case when {dialect.Column(name)} then '1' else '0' end"
                : dialect.ToText(dialect.Column(name));
    }
}
