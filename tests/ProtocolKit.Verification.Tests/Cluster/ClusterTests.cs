using System.Globalization;
using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Code.Sql;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Testing;
using ProtocolKit.TestPrograms;
using ProtocolKit.Verification.Targets;
using ProtocolKit.Verification.Targets.Tables;

namespace ProtocolKit.Verification.Tests.Cluster;

/// <summary>
/// The emitted SQL, unchanged, where records lie on several servers: every field, line and result is the reference's, and with a
/// server down there is an error and never fewer rows. Without the servers' packages there is nothing to run; a build server has them.
/// </summary>
public class ClusterTests
{
    private const int Rows = 400;

    private static readonly Protocol Screen = SampleScreen.Protocol();

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Three_ClickHouse_nodes_agree_with_the_reference_and_none_may_be_down(bool onNodes)
    {
        using var cluster = Made(SqlDialect.ClickHouse, (c, q, t) => new ClickHouseCluster(c, q, t, onNodes));
        if (!IsThere(cluster.Start))
        {
            return;
        }

        AssertAgrees(cluster, SqlDialect.ClickHouse);
        cluster.Fill(Table());
        var scored = cluster.Scored(Query(SqlDialect.ClickHouse));
        Assert.Equal(Rows, cluster.Rows(scored).Count);
        Assert.All(Enumerable.Range(0, 3), node => Assert.InRange(cluster.RowsOn(node), 1, Rows - 2));

        cluster.Stop(1);
        Assert.Throws<TargetFaultException>(() => cluster.Rows(scored));
        Assert.Throws<TargetFaultException>(() => cluster.Add(Table()));

        // The setting that must never be made: rows go missing without a word.
        Assert.InRange(cluster.Rows(scored, "--skip_unavailable_shards", "1").Count, 1, Rows - 1);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void PostgreSQL_with_partitions_on_other_servers_agrees_and_none_may_be_down(bool onNodes)
    {
        using var cluster = Made(SqlDialect.PostgreSql, (c, q, t) => new PostgreSqlCluster(c, q, t, onNodes));
        if (!IsThere(cluster.Start))
        {
            return;
        }

        AssertAgrees(cluster, SqlDialect.PostgreSql);
        cluster.Fill(Table());
        Assert.Equal(Rows, cluster.Rows(cluster.Query).Count);
        Assert.All(Enumerable.Range(0, 2), node => Assert.InRange(cluster.RowsOn(node), 1, Rows - 1));

        cluster.Stop(1);
        Assert.Throws<TargetFaultException>(() => cluster.Rows(cluster.Query));
        Assert.Throws<TargetFaultException>(() => cluster.Fill(Table()));
    }

    private static void AssertAgrees(ITableEngine engine, SqlDialect dialect)
    {
        var order = new SqlOutput(dialect, isTraced: true).TraceOrder(Screen);
        var target = new TableTarget("cluster", Screen, new Running(engine), order, NumberForm.Exact);
        using var run = new TargetRun(Screen, "cluster", Rows, () => target);
        run.Start();
        run.Add([.. Records.Random(Screen, Rows, seed: 11).Select(f => Trial.Of(Screen, f))]);
        run.Finish();
        var report = run.Report("");

        Assert.True(report.Agreement == Agreement.Agreed, $"{report.Reason} {report.Difference}");
        Assert.Equal(Rows, report.Records);
    }

    private static T Made<T>(SqlDialect dialect, Func<IReadOnlyList<string>, string, string, T> make) =>
        make(ResultColumns.OfRecords(Screen), Query(dialect), Query(dialect, isTraced: true));

    private static string Query(SqlDialect dialect, bool isTraced = false) =>
        new SqlOutput(dialect, isTraced).Text(Screen, TemplateSource.BuiltIn);

    /// <summary>The flawless sheet, again and again, as rows of text.</summary>
    private static IReadOnlyList<string[]> Table()
    {
        var plain = PlainRecord.From(Screen, Records.Flawless(Screen));
        var cells = plain.Answers.ToDictionary(a => a.Key, a => a.Text, StringComparer.Ordinal);
        cells[RecordKeys.AgeMonths] = plain.AgeMonths.ToString(CultureInfo.InvariantCulture);
        cells[RecordKeys.Form] = RecordKeys.Full;
        return
        [
            .. Enumerable
                .Range(0, Rows)
                .Select(row =>
                    ResultColumns
                        .OfRecords(Screen)
                        .Select(c =>
                            c == RecordKeys.Case
                                ? string.Create(CultureInfo.InvariantCulture, $"QC-{row:D4}")
                                : cells.GetValueOrDefault(c, "")
                        )
                        .ToArray()
                ),
        ];
    }

    private static bool IsThere(Action start)
    {
        try
        {
            start();
            return true;
        }
        catch (TargetUnavailableException e)
            when (e.IsMissing && Environment.GetEnvironmentVariable("CI") != "true")
        {
            return false;
        }
    }

    /// <summary>An engine that runs already, and goes on after the comparison.</summary>
    private sealed class Running(ITableEngine engine) : ITableEngine
    {
        public int BatchSize => engine.BatchSize;

        public void Start() { }

        public IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows) => engine.Run(rows);

        public void Dispose() { }
    }
}
