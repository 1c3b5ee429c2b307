using System.Globalization;
using System.Text;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>Scoring as one query over a table of records, a row a child.</summary>
/// <param name="isTraced">Adds a column with every field and line, for verify.</param>
public sealed class SqlOutput(SqlDialect dialect, bool isTraced = false) : CodeOutput
{
    public SqlDialect Dialect => dialect;

    public override string Kind => "sql-" + dialect.Name;

    public override string Purpose => $"scoring code: a query over a table of records, for {dialect.Title}";

    protected override string TemplateName => dialect.IsNested ? "sql/nested.sql" : "sql/levels.sql";

    /// <summary>Names stand in quotes.</summary>
    protected override IReadOnlyList<string> Reserved => [];

    internal override int IndentOfLines => 4;

    public override string FileName(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return $"{protocol.Name}.{dialect.Name}.sql";
    }

    /// <summary>The places of fields and lines (the lines after the fields) in the order in which a traced query says them.</summary>
    public IReadOnlyList<int> TraceOrder(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        var query = new SqlQuery(protocol, dialect, isTraced: true);
        var places = query
            .Fields.Concat(query.Lines)
            .Select((n, i) => (n, i))
            .ToDictionary(StringComparer.Ordinal);
        return [.. query.Order.Select(n => places[n])];
    }

    internal override Raw Number(Rational value) => new(value.ToString());

    internal override Raw Quote(string text) => new(dialect.Text(text));

    internal override ExpressionWriter Writer(IReadOnlyList<string> fields, IReadOnlyList<string> lines) =>
        new SqlWriter(dialect, fields, lines, new SqlNames(dialect.LongestName));

    internal override object View(Protocol protocol)
    {
        CheckNames(protocol);
        var query = new SqlQuery(protocol, dialect, isTraced);
        var widest = query.Levels.Max(l => l.Carried.Count + l.Columns.Count);
        if (widest > dialect.MostColumns)
        {
            throw new OutputRefusedException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Kind}: the query needs {widest} columns at once; {dialect.Title} holds at most {dialect.MostColumns}. Leave out tasks, trials or scores."
                )
            );
        }

        return SqlViews.Of(protocol, this, query);
    }

    private void CheckNames(Protocol protocol)
    {
        var tooLong = ResultColumns
            .OfRecords(protocol)
            .FirstOrDefault(c => Encoding.UTF8.GetByteCount(c) > dialect.LongestName);
        if (tooLong is not null)
        {
            throw new OutputRefusedException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Kind}: {dialect.Title} holds names of at most {dialect.LongestName} characters; {tooLong} is longer. Shorten the task's name or the answer's."
                )
            );
        }
    }
}
