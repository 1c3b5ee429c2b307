using System.Globalization;
using System.Text;

namespace ProtocolKit.Emit.Code.Sql;

internal sealed class PostgreSqlDialect : SqlDialect
{
    public override string Name => "postgresql";

    public override string Title => "PostgreSQL";

    /// <summary>Keeps the planner from writing each level into the next, over and over.</summary>
    internal override string LevelEnd => "offset 0";

    internal override int MostColumns => 1600;

    internal override int LongestName => 63;

    internal override IReadOnlyList<string> Notes =>
        [
            "With psql: psql -f FILE. As a view: create view scored as, then this text. Each level ends in "
                + "\"offset 0\", which keeps the planner from writing it into the next one again and again.",
        ];

    /// <summary>
    /// Only an E'' literal knows escapes, so a backslash or anything that isn't plain makes it one. The
    /// character with number 0 can't stand in a text at all: it is shown instead of carried.
    /// </summary>
    internal override string Text(string text)
    {
        var code = new StringBuilder();
        var escapes = false;
        foreach (var rune in text.EnumerateRunes())
        {
            if (rune.Value == '\'')
            {
                code.Append("''");
            }
            else if (rune.Value == '\\')
            {
                code.Append(@"\\");
                escapes = true;
            }
            else if (IsPlain(rune))
            {
                code.Append(rune.ToString());
            }
            else
            {
                var number = rune.Value == 0 ? 0xFFFD : rune.Value;
                code.Append(CultureInfo.InvariantCulture, $"\\U{number:X8}");
                escapes = true;
            }
        }

        return (escapes ? "E'" : "'") + code + "'";
    }

    internal override string Wide(string value) => $"cast({value} as bigint)";

    internal override string Quotient(string dividend, string divisor) => $"{dividend} / {divisor}";

    internal override string Clean(string column) =>
        $"btrim(coalesce(cast({column} as text), ''), E' \\t\\r\\n')";

    internal override string Matches(string text, string pattern) => $"{text} ~ '{pattern}'";

    internal override string Extract(string text, string pattern) =>
        $"coalesce(substring({text} from '{pattern}'), '')";

    internal override string ToWhole(string digits) => $"cast({digits} as bigint)";
}
