using System.Globalization;
using System.Text;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>
/// From version 18.16 on, which has no common table expressions of queries: levels are subqueries. Branches of
/// a <c>case</c> are all worked out and must be of one type, so every number is written with 64 bits.
/// </summary>
internal sealed class ClickHouseDialect : SqlDialect
{
    public override string Name => "clickhouse";

    public override string Title => "ClickHouse";

    internal override bool IsNested => true;

    internal override bool EndsOfMany => false;

    internal override IReadOnlyList<string> Notes =>
        [
            "With clickhouse-client: --max_query_size 100000000 --max_ast_depth 10000 --max_ast_elements 10000000 "
                + "--max_expanded_ast_elements 100000000 --multiquery < FILE. On a cluster, records may be a "
                + "Distributed table; never set skip_unavailable_shards, which leaves rows out without a word.",
        ];

    internal override string Column(string name) => "\"" + Escaped(name, '"') + "\"";

    internal override string Text(string text) => "'" + Escaped(text, '\'') + "'";

    internal override string Whole(long value) =>
        string.Create(CultureInfo.InvariantCulture, $"toInt64({value})");

    internal override string Wide(string value) => $"toInt64({value})";

    internal override string Quotient(string dividend, string divisor) => $"intDiv({dividend}, {divisor})";

    internal override string Clean(string column) =>
        $"replaceRegexpAll(ifNull(toString({column}), ''), '^[ \\\\t\\\\r\\\\n]+|[ \\\\t\\\\r\\\\n]+$', '')";

    internal override string Matches(string text, string pattern) => $"match({text}, '{pattern}')";

    internal override string Extract(string text, string pattern) => $"extract({text}, '{pattern}')";

    internal override string ToWhole(string digits) => $"toInt64OrZero({digits})";

    internal override string ToText(string number) => $"toString({number})";

    internal override string Scaled(string number, string scale)
    {
        var digits = scale.Contains('.', StringComparison.Ordinal)
            ? scale.Length - scale.IndexOf('.') - 1
            : 0;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"toDecimal128({number}, 0) * toDecimal128('{scale}', {digits})"
        );
    }

    /// <summary>Its literals are bytes: what isn't plain is written byte by byte.</summary>
    private static string Escaped(string text, char quote)
    {
        var code = new StringBuilder();
        Span<byte> bytes = stackalloc byte[4];
        foreach (var rune in text.EnumerateRunes())
        {
            if (rune.Value == quote || rune.Value == '\\')
            {
                code.Append('\\').Append((char)rune.Value);
            }
            else if (IsPlain(rune))
            {
                code.Append(rune.ToString());
            }
            else
            {
                foreach (var b in bytes[..rune.EncodeToUtf8(bytes)])
                {
                    code.Append(CultureInfo.InvariantCulture, $"\\x{b:X2}");
                }
            }
        }

        return code.ToString();
    }
}
