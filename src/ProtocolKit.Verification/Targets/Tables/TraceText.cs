using System.Text;

namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>The texts that go between verify and engines that take tables.</summary>
internal static class TraceText
{
    /// <summary>A trace that has a comma after each value, with commas between values.</summary>
    public static string Read(string trace) => trace.Length == 0 ? "" : trace[..^1];

    /// <summary>Rows as text with tabs, in the way PostgreSQL's copy and ClickHouse's TabSeparated share.</summary>
    public static string WriteRows(IEnumerable<string[]> rows, bool blankIsNull)
    {
        var text = new StringBuilder();
        foreach (var row in rows)
        {
            for (var i = 0; i < row.Length; i++)
            {
                text.Append(i == 0 ? "" : "\t");
                text.Append(row[i].Length == 0 && blankIsNull ? "\\N" : Escaped(row[i]));
            }

            text.Append('\n');
        }

        return text.ToString();
    }

    /// <summary>A row of such a text.</summary>
    public static string?[] ReadRow(string line) =>
        [.. line.Split('\t').Select(c => c == "\\N" ? null : Unescaped(c))];

    private static string Escaped(string cell) =>
        cell.Replace("\\", "\\\\", StringComparison.Ordinal)
            .Replace("\t", "\\t", StringComparison.Ordinal)
            .Replace("\n", "\\n", StringComparison.Ordinal)
            .Replace("\r", "\\r", StringComparison.Ordinal);

    private static string Unescaped(string cell)
    {
        if (!cell.Contains('\\', StringComparison.Ordinal))
        {
            return cell;
        }

        var text = new StringBuilder(cell.Length);
        for (var i = 0; i < cell.Length; i++)
        {
            if (cell[i] != '\\' || i + 1 == cell.Length)
            {
                text.Append(cell[i]);
                continue;
            }

            i++;
            text.Append(
                cell[i] switch
                {
                    't' => '\t',
                    'n' => '\n',
                    'r' => '\r',
                    'b' => '\b',
                    'f' => '\f',
                    'v' => '\v',
                    '0' => '\0',
                    var c => c,
                }
            );
        }

        return text.ToString();
    }
}
