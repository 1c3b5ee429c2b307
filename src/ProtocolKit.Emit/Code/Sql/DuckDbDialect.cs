using System.Globalization;
using System.Text;

namespace ProtocolKit.Emit.Code.Sql;

internal sealed class DuckDbDialect : SqlDialect
{
    public override string Name => "duckdb";

    public override string Title => "DuckDB";

    internal override string LevelAs => "as not materialized";

    internal override IReadOnlyList<string> Notes =>
        [
            "In the shell: .read FILE. As a view: create view scored as, then this text. From a file of records: "
                + "create view records as from read_csv('table.csv', all_varchar = true).",
        ];

    /// <summary>A backslash is a plain character; what isn't plain is given by its number.</summary>
    internal override string Text(string text)
    {
        var (parts, plain) = (new List<string>(), new StringBuilder());
        foreach (var rune in text.EnumerateRunes())
        {
            if (IsPlain(rune))
            {
                plain.Append(rune.Value == '\'' ? "''" : rune.ToString());
                continue;
            }

            // The character with number 0 ends a text in some engines: shown instead of carried.
            Close(parts, plain);
            parts.Add(
                string.Create(CultureInfo.InvariantCulture, $"chr({(rune.Value == 0 ? 0xFFFD : rune.Value)})")
            );
        }

        Close(parts, plain);
        return parts.Count switch
        {
            0 => "''",
            1 => parts[0],
            _ => $"({string.Join(" || ", parts)})",
        };
    }

    internal override string Wide(string value) => $"cast({value} as bigint)";

    internal override string Quotient(string dividend, string divisor) => $"{dividend} // {divisor}";

    internal override string Clean(string column) => $"trim(coalesce(cast({column} as varchar), ''))";

    internal override string Matches(string text, string pattern) => $"regexp_matches({text}, '{pattern}')";

    internal override string Extract(string text, string pattern) =>
        $"regexp_extract({text}, '{pattern}', 1)";

    internal override string ToWhole(string digits) => $"coalesce(try_cast({digits} as bigint), 0)";

    private static void Close(List<string> parts, StringBuilder plain)
    {
        if (plain.Length > 0)
        {
            parts.Add($"'{plain}'");
            plain.Clear();
        }
    }
}
