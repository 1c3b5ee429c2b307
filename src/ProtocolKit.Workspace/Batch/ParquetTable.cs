using DuckDB.NET.Data;
using ProtocolKit.Emit.Code;
using ProtocolKit.Model;

namespace ProtocolKit.Workspace.Batch;

/// <summary>Tables in Parquet, read and written by DuckDB within this process and within a fixed share of memory.</summary>
internal static class ParquetTable
{
    /// <summary>Rows that are held at once while a table is written.</summary>
    private const int RowsInGroup = 8192;

    public static bool Is(string path) => path.EndsWith(".parquet", StringComparison.OrdinalIgnoreCase);

    public static DuckDBConnection Open()
    {
        var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "set memory_limit = '192MB'; set threads = 1";
        command.ExecuteNonQuery();
        return connection;
    }

    /// <summary>A path or name as a string of SQL.</summary>
    public static string Text(string text) => $"'{text.Replace("'", "''", StringComparison.Ordinal)}'";

    /// <summary>Makes a Parquet table of results that were written as CSV; numbers are exact decimals and whole numbers.</summary>
    public static void Write(Protocol protocol, string rows, string path)
    {
        var columns = ResultColumns
            .Of(protocol)
            .Select(c => $"{Text(c.Name)}: '{Type(c, protocol.Program)}'");
        using var connection = Open();
        using var command = connection.CreateCommand();
        command.CommandText =
            $"copy (from read_csv({Text(rows)}, header = true, auto_detect = false, delim = ',', nullstr = '', "
            + $"columns = {{{string.Join(", ", columns)}}})) to {Text(path)} "
            + FormattableString.Invariant($"(format parquet, row_group_size {RowsInGroup})");
        command.ExecuteNonQuery();
    }

    private static string Type(ResultColumn column, ScoringProgram program)
    {
        var outcome = program.Outcomes.FirstOrDefault(o => o.Outcome.Name == column.Subject);
        return column.Part switch
        {
            ResultPart.AgeMonths => "integer",
            ResultPart.LowOver or ResultPart.HighOver => "bigint",
            ResultPart.Low or ResultPart.High => ResultColumns.IsFraction(outcome!)
                ? "bigint"
                : FormattableString.Invariant($"decimal(38, {Digits(outcome!.Scale)})"),
            _ => "varchar",
        };
    }

    /// <summary>Digits behind the point of a scale that decimals can write.</summary>
    private static int Digits(Rational scale)
    {
        var text = scale.ToString();
        var point = text.IndexOf('.', StringComparison.Ordinal);
        return point < 0 ? 0 : text.Length - point - 1;
    }
}
