using System.Globalization;
using System.Text;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>
/// What differs from one database to the next. All spell quoted names, <c>case</c> and <c>and</c> alike; they
/// differ in integer division, in reading texts and in how a text is written down.
/// </summary>
public abstract class SqlDialect
{
    public static SqlDialect DuckDb { get; } = new DuckDbDialect();

    public static SqlDialect PostgreSql { get; } = new PostgreSqlDialect();

    public static SqlDialect ClickHouse { get; } = new ClickHouseDialect();

    /// <summary>As in <c>sql-duckdb</c>.</summary>
    public abstract string Name { get; }

    public abstract string Title { get; }

    /// <summary>Whether levels are subqueries in one another rather than common table expressions.</summary>
    internal virtual bool IsNested => false;

    /// <summary>Words after <c>with … as</c>, so that each level is worked out once and none is stored.</summary>
    internal virtual string LevelAs => "as";

    /// <summary>What ends a level.</summary>
    internal virtual string LevelEnd => "";

    /// <summary>The most columns one level may have.</summary>
    internal virtual int MostColumns => 20_000;

    /// <summary>The most bytes a column's name may have.</summary>
    internal virtual int LongestName => 500;

    /// <summary>What a reader must know before running the file.</summary>
    internal abstract IReadOnlyList<string> Notes { get; }

    /// <summary>A column's name in quotes.</summary>
    internal virtual string Column(string name) =>
        "\"" + name.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";

    /// <summary>A text as a literal that nothing in it can end.</summary>
    internal abstract string Text(string text);

    internal virtual string Whole(long value) => value.ToString(CultureInfo.InvariantCulture);

    /// <summary>A whole number of 64 bits, whatever it is worked out from.</summary>
    internal abstract string Wide(string value);

    internal abstract string Quotient(string dividend, string divisor);

    /// <summary>A column of any type as text without blanks around it; nothing becomes the empty text.</summary>
    internal abstract string Clean(string column);

    internal abstract string Matches(string text, string pattern);

    /// <summary>The part of a text in the pattern's brackets; the empty text where there is none.</summary>
    internal abstract string Extract(string text, string pattern);

    /// <summary>The whole number a text of digits spells.</summary>
    internal abstract string ToWhole(string digits);

    internal virtual string ToText(string number) => $"cast({number} as varchar)";

    /// <summary>A whole number times an exact decimal, as an exact decimal.</summary>
    internal virtual string Scaled(string number, string scale) => $"{number} * {scale}";

    /// <summary>Least and most take any number of values.</summary>
    internal virtual bool EndsOfMany => true;

    /// <summary>Some engines take no more than a hundred arguments.</summary>
    internal static string Concat(IReadOnlyList<string> parts) =>
        parts.Count switch
        {
            0 => "''",
            1 => parts[0],
            <= 60 => $"concat({string.Join(", ", parts)})",
            _ => Concat([.. parts.Chunk(60).Select(Concat)]),
        };

    /// <summary>Characters that may stand in a literal and in a comment as they are.</summary>
    private protected static bool IsPlain(Rune rune) =>
        Rune.GetUnicodeCategory(rune)
            is not (
                UnicodeCategory.Control
                or UnicodeCategory.Format
                or UnicodeCategory.LineSeparator
                or UnicodeCategory.ParagraphSeparator
                or UnicodeCategory.Surrogate
                or UnicodeCategory.OtherNotAssigned
                or UnicodeCategory.PrivateUse
            );
}
