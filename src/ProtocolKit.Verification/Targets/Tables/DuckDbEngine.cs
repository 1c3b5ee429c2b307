using System.Globalization;
using DuckDB.NET.Data;

namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>DuckDB within this process; always there. Each batch is planned anew: a prepared plan keeps what it knew of the rows before.</summary>
/// <param name="query">The emitted query.</param>
/// <param name="traced">The same with its trace as the last column.</param>
internal sealed class DuckDbEngine(IReadOnlyList<string> columns, string query, string traced) : ITableEngine
{
    private DuckDBConnection? _connection;

    public int BatchSize => 8192;

    public void Start()
    {
        _connection = new DuckDBConnection("DataSource=:memory:");
        _connection.Open();
        try
        {
            var names = columns.Select(c =>
                $"\"{c.Replace("\"", "\"\"", StringComparison.Ordinal)}\" varchar"
            );
            Execute($"create table records ({string.Join(", ", names)})");
            Rows(query);
        }
        catch (DuckDBException e)
        {
            throw new TargetUnavailableException($"DuckDB does not take the SQL: {FirstLine(e)}", e);
        }
    }

    public IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows)
    {
        try
        {
            Execute("delete from records");
            Append(rows);
            var traces = Rows(traced).ToDictionary(r => r[0]!, r => r[^1]!, StringComparer.Ordinal);
            return [.. Rows(query).Select(r => new TableRow(r, TraceText.Read(traces[r[0]!])))];
        }
        catch (Exception e) when (e is DuckDBException or KeyNotFoundException or ArgumentException)
        {
            throw new TargetFaultException(FirstLine(e), e);
        }
    }

    public void Dispose() => _connection?.Dispose();

    private void Append(IReadOnlyList<string[]> rows)
    {
        using var appender = _connection!.CreateAppender("records");
        foreach (var cells in rows)
        {
            var row = appender.CreateRow();
            foreach (var cell in cells)
            {
                _ = cell.Length == 0 ? row.AppendNullValue() : row.AppendValue(cell);
            }

            row.EndRow();
        }
    }

    private void Execute(string sql)
    {
        using var command = _connection!.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private List<string?[]> Rows(string sql)
    {
        using var command = _connection!.CreateCommand();
        command.CommandText = sql;
        using var reader = command.ExecuteReader();
        var rows = new List<string?[]>();
        while (reader.Read())
        {
            var row = new string?[reader.FieldCount];
            for (var i = 0; i < row.Length; i++)
            {
                row[i] = reader.IsDBNull(i)
                    ? null
                    : Convert.ToString(reader.GetValue(i), CultureInfo.InvariantCulture);
            }

            rows.Add(row);
        }

        return rows;
    }

    private static string FirstLine(Exception e) => e.Message.Split('\n')[0];
}
