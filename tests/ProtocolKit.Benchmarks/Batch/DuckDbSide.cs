using System.Globalization;
using DuckDB.NET.Data;
using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Code.Sql;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Benchmarks.Batch;

/// <summary>DuckDB within this process, on both processors, with its tables in memory.</summary>
internal sealed class DuckDbSide : IDisposable
{
    private readonly DuckDBConnection _connection = new("DataSource=:memory:");

    public DuckDbSide() => _connection.Open();

    /// <summary>The emitted query.</summary>
    public static string Emitted(Protocol protocol) =>
        new SqlOutput(SqlDialect.DuckDb).Text(protocol, TemplateSource.BuiltIn);

    /// <summary>
    /// The lines of the emitted query without its reading of texts, over a table <c>fields</c> with a column of whole numbers for
    /// each field; its result has the wanted lines.
    /// </summary>
    public static string OfFields(Protocol protocol, IReadOnlyList<int> wanted)
    {
        var dialect = SqlDialect.DuckDb;
        var program = protocol.Program;
        var names = new SqlNames(dialect.LongestName);
        string[] fields = [.. program.Fields.Select(f => names.Of(f.Name))];
        string[] lines = [.. program.Lines.Select(l => names.Of(l.Name))];
        var writer = new SqlWriter(dialect, fields, lines, names);
        var columns = fields.Select((f, i) => Plain(f, Field(i))).ToList();
        for (var i = 0; i < lines.Length; i++)
        {
            columns.AddRange(writer.Columns(program.Lines[i], lines[i], ""));
        }

        SqlColumn[] results = [.. wanted.Select(l => Plain(lines[l], lines[l]) with { Needs = [lines[l]] })];
        var levels = SqlLevels.Of(columns, results);
        var query = levels.Select(
            (l, i) => $"level_{i} as not materialized (select {Columns(l)} from {From(i)})"
        );
        return $"with {string.Join(",\n", query)}\nselect * from level_{levels.Count - 1}";

        SqlColumn Plain(string name, string from) => new(name, CodeLayout.Word(dialect.Column(from)), "", []);
        string Columns(SqlLevel level) =>
            string.Join(
                ", ",
                level
                    .Carried.Select(dialect.Column)
                    .Concat(level.Columns.Select(c => $"{c.Code.Write(0, 0)} as {dialect.Column(c.Name)}"))
            );
        string From(int level) => level == 0 ? "fields" : $"level_{level - 1}";
    }

    /// <summary>Makes the table <c>fields</c> from columns in memory.</summary>
    public void Load(long[][] fields, int rows)
    {
        Run($"create table fields ({string.Join(", ", fields.Select((_, i) => $"{Field(i)} bigint"))})");
        using var appender = _connection.CreateAppender("fields");
        for (var at = 0; at < rows; at++)
        {
            var row = appender.CreateRow();
            foreach (var column in fields)
            {
                row.AppendValue(column[at]);
            }

            row.EndRow();
        }
    }

    public void Run(string sql)
    {
        using var command = _connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    /// <summary>The first rows of a table, in the order they were made in.</summary>
    public IReadOnlyList<long[]> First(string table, int count)
    {
        using var command = _connection.CreateCommand();
        command.CommandText = string.Create(
            CultureInfo.InvariantCulture,
            $"select * from {table} limit {count}"
        );
        using var reader = command.ExecuteReader();
        var rows = new List<long[]>();
        while (reader.Read())
        {
            rows.Add([
                .. Enumerable
                    .Range(0, reader.FieldCount)
                    .Select(i => Convert.ToInt64(reader.GetValue(i), CultureInfo.InvariantCulture)),
            ]);
        }

        return rows;
    }

    public void Dispose() => _connection.Dispose();

    private static string Field(int field) => string.Create(CultureInfo.InvariantCulture, $"f{field}");
}
