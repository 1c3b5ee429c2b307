using System.Globalization;
using DuckDB.NET.Data;
using ProtocolKit.Model;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Batch;

/// <summary>Rows of a Parquet table, read by DuckDB a chunk at a time; a number is the text it is written with.</summary>
internal sealed class ParquetRows : IRowSource
{
    private readonly string _name;
    private readonly DuckDBConnection _connection;
    private readonly DuckDBDataReader _rows;
    private readonly string[] _cells;

    public ParquetRows(string path)
    {
        _name = Path.GetFileName(path);
        _connection = ParquetTable.Open();
        try
        {
            var file = ParquetTable.Text(path);
            var columns = Describe(file);
            Columns = [.. columns.Select(c => c.Name.Trim())];
            _cells = new string[Columns.Count];
            using var command = _connection.CreateCommand();
            command.UseStreamingMode = true;
            command.CommandText =
                $"select {string.Join(", ", columns.Select(Cell))} from read_parquet({file})";
            _rows = command.ExecuteReader();
        }
        catch (DuckDBException broken)
        {
            _connection.Dispose();
            throw Broken(broken);
        }
    }

    public IReadOnlyList<string> Columns { get; }

    public int Cells => _cells.Length;

    /// <summary>There is no line of names: the first row is 1.</summary>
    public int Line { get; private set; }

    public bool Read()
    {
        try
        {
            if (!_rows.Read())
            {
                return false;
            }

            for (var i = 0; i < _cells.Length; i++)
            {
                _cells[i] = _rows.IsDBNull(i) ? "" : _rows.GetString(i);
            }
        }
        catch (DuckDBException broken)
        {
            throw Broken(broken);
        }

        Line++;
        return true;
    }

    public ReadOnlySpan<char> Cell(int column) => _cells[column].AsSpan().Trim();

    public void Dispose()
    {
        _rows.Dispose();
        _connection.Dispose();
    }

    /// <summary>A truth value is yes or no, as in every record.</summary>
    private static string Cell((string Name, string Type) column)
    {
        var name = $"\"{column.Name.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
        return column.Type == "BOOLEAN"
            ? $"case {name} when true then '{RecordKeys.Yes}' when false then '{RecordKeys.No}' end"
            : $"{name}::varchar";
    }

    private List<(string Name, string Type)> Describe(string file)
    {
        using var command = _connection.CreateCommand();
        command.CommandText = $"describe select * from read_parquet({file})";
        using var reader = command.ExecuteReader();
        var columns = new List<(string, string)>();
        while (reader.Read())
        {
            columns.Add((reader.GetString(0), reader.GetString(1)));
        }

        return columns;
    }

    private StudyDataException Broken(DuckDBException broken) =>
        new(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{_name}: this is no Parquet table that can be read ({broken.Message.Split('\n')[0]})."
            ),
            broken
        );
}
