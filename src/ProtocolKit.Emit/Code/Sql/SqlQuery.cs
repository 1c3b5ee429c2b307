using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>A protocol as columns in levels.</summary>
internal sealed class SqlQuery
{
    public SqlQuery(Protocol protocol, SqlDialect dialect, bool isTraced)
    {
        var names = new SqlNames(
            dialect.LongestName,
            dialect.IsNested ? ResultColumns.Of(protocol).Select(c => c.Name) : null
        );
        var program = protocol.Program;
        Fields = [.. program.Fields.Select(f => names.Of(f.Name))];
        Lines = [.. program.Lines.Select(l => names.Of(l.Name))];
        var reading = new SqlReading(protocol, dialect, names, Fields);
        var writer = new SqlWriter(dialect, Fields, Lines, names);
        var columns = reading.Columns.ToList();
        for (var i = 0; i < Lines.Count; i++)
        {
            columns.AddRange(writer.Columns(program.Lines[i], Lines[i], Comment(program.Lines[i])));
        }

        var errors = new SqlErrors(protocol, dialect, names, reading, Lines);
        columns.AddRange(errors.Columns);
        var results = new SqlResults(protocol, dialect, reading, errors.Name, Lines).Columns.ToList();
        if (isTraced)
        {
            var isCondition = program.Lines.Select((l, i) => (Lines[i], l.Value is null)).ToList();
            var parts = SqlTrace.Of(columns, Fields, isCondition, dialect, names, out var order);
            columns.AddRange(parts);
            Order = order;
            results.Add(
                new SqlColumn(
                    SqlTrace.Column,
                    CodeLayout.Word(SqlDialect.Concat([.. parts.Select(p => dialect.Column(p.Name))])),
                    "every field and line",
                    [.. parts.Select(p => p.Name)]
                )
            );
        }

        Levels = SqlLevels.Of(columns, results);
    }

    public IReadOnlyList<string> Fields { get; }

    public IReadOnlyList<string> Lines { get; }

    /// <summary>Names in the order in which a traced query says them.</summary>
    public IReadOnlyList<string> Order { get; } = [];

    public IReadOnlyList<SqlLevel> Levels { get; }

    private static string Comment(ProgramLine line)
    {
        var note = string.IsNullOrWhiteSpace(line.Note) ? "" : line.Note;
        if (line.Value is null)
        {
            return note.Length == 0 ? "true or false" : note;
        }

        var limits = FormattableString.Invariant($"{line.Low}..{line.High}");
        return note.Length == 0 ? limits : $"{limits}: {note}";
    }
}
