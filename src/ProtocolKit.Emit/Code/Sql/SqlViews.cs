using System.Globalization;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>What a template of SQL sees; everything printable is written already.</summary>
/// <param name="Levels">The first reads the table, the last gives the result.</param>
internal sealed record SqlView(
    IReadOnlyList<Raw> TitleComment,
    IReadOnlyList<Raw> IdentityComment,
    IReadOnlyList<Raw> CautionComment,
    IReadOnlyList<Raw> NoteComment,
    Raw LevelAs,
    Raw LevelEnd,
    IReadOnlyList<SqlLevelView> Levels
);

/// <param name="Name">Such as <c>level_3</c>.</param>
/// <param name="From">The level before, or the table.</param>
internal sealed record SqlLevelView(
    Raw Name,
    Raw From,
    bool IsFirst,
    bool IsLast,
    IReadOnlyList<Raw> Carried,
    IReadOnlyList<SqlColumnView> Columns
);

/// <param name="Comment">Two hyphens and the comment, or nothing.</param>
internal sealed record SqlColumnView(Raw Code, Raw Name, Raw Comment);

internal static class SqlViews
{
    public static SqlView Of(Protocol protocol, SqlOutput output, SqlQuery query)
    {
        var dialect = output.Dialect;
        var last = query.Levels.Count - 1;
        return new SqlView(
            CodeText.Comments(protocol.Title),
            Comments(CodeHeader.Identity(protocol)),
            Comments(CodeHeader.Cautions(protocol)),
            Comments(dialect.Notes),
            new Raw(dialect.LevelAs),
            new Raw(dialect.LevelEnd.Length == 0 ? "" : "\n  " + dialect.LevelEnd),
            [.. query.Levels.Select((l, i) => Level(l, i, last, output))]
        );
    }

    private static SqlLevelView Level(SqlLevel level, int index, int last, SqlOutput output) =>
        new(
            new Raw(Name(index)),
            new Raw(index == 0 ? "records" : Name(index - 1)),
            index == 0,
            index == last,
            [.. level.Carried.Select(c => new Raw(output.Dialect.Column(c)))],
            [.. level.Columns.Select(c => Column(c, output))]
        );

    private static SqlColumnView Column(SqlColumn column, SqlOutput output)
    {
        var comment = CodeText.Comment(column.Comment).Text;
        return new SqlColumnView(
            new Raw(column.Code.Write(output.IndentOfLines, output.IndentOfLines)),
            new Raw(output.Dialect.Column(column.Name)),
            new Raw(comment.Length == 0 ? "" : " -- " + comment)
        );
    }

    private static string Name(int level) => string.Create(CultureInfo.InvariantCulture, $"level_{level}");

    private static IReadOnlyList<Raw> Comments(IEnumerable<string> texts) =>
        [.. texts.SelectMany(CodeText.Comments)];
}
