using System.Globalization;
using ProtocolKit.Verification.Targets;
using ProtocolKit.Verification.Targets.Tables;

namespace ProtocolKit.Verification.Tests.Cluster;

/// <summary>
/// Three ClickHouse servers on loopback that hold a third of the records each. In the database <c>cluster</c> of the first one
/// stands a Distributed table over them, called <c>records</c> as the emitted query wants it.
/// </summary>
/// <param name="query">The emitted query.</param>
/// <param name="traced">The same with its trace as the last column.</param>
/// <param name="onNodes">Whether each node scores its own rows, and results alone are gathered.</param>
internal sealed class ClickHouseCluster(
    IReadOnlyList<string> columns,
    string query,
    string traced,
    bool onNodes
) : ITableEngine
{
    private const int Nodes = 3;

    private readonly IReadOnlyList<Server> _servers =
    [
        .. Enumerable.Range(0, Nodes).Select(_ => new Server("ClickHouse")),
    ];
    private readonly int[] _ports = [.. Enumerable.Range(0, Nodes).Select(_ => Server.FreePort())];

    public int BatchSize => 4096;

    public void Start()
    {
        for (var node = 0; node < Nodes; node++)
        {
            Start(node);
        }

        var names = columns.Select(c => $"\"{c.Replace("\\", "\\\\", StringComparison.Ordinal)}\" String");
        foreach (var node in Enumerable.Range(0, Nodes))
        {
            Ask(node, "default", $"create table records ({string.Join(", ", names)}) engine = Memory");
        }

        Ask(0, "default", "create database cluster");
        Ask(
            0,
            "cluster",
            "create table records as default.records engine = Distributed(three, default, records, cityHash64(\"case\"))"
        );
    }

    public IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows)
    {
        Fill(rows);
        var traces = Rows(Scored(traced)).ToDictionary(r => r[0]!, r => r[^1]!, StringComparer.Ordinal);
        return
        [
            .. Rows(Scored(query))
                .Select(r => new TableRow(r, TraceText.Read(traces.GetValueOrDefault(r[0]!, "")))),
        ];
    }

    /// <summary>Lays rows into the Distributed table, each on the node its case falls to.</summary>
    public void Fill(IReadOnlyList<string[]> rows)
    {
        for (var node = 0; node < Nodes; node++)
        {
            Ask(node, "default", "truncate table records");
        }

        if (rows.Count > 0)
        {
            Add(rows);
        }
    }

    /// <summary>Lays more rows into the Distributed table.</summary>
    /// <exception cref="TargetFaultException">One of their nodes did not take them.</exception>
    public void Add(IReadOnlyList<string[]> rows) =>
        Ask(
            0,
            "cluster",
            TraceText.WriteRows(rows, blankIsNull: false),
            "--query",
            "insert into records format TabSeparated"
        );

    /// <summary>What gives the scored rows, once the nodes have done what is theirs.</summary>
    public string Scored(string emitted)
    {
        if (!onNodes)
        {
            return emitted;
        }

        for (var node = 0; node < Nodes; node++)
        {
            Ask(node, "default", "drop table if exists results");
            Ask(node, "default", $"create table results engine = Memory as\n{emitted}");
        }

        Ask(0, "cluster", "drop table if exists results");
        Ask(
            0,
            "cluster",
            "create table results as default.results engine = Distributed(three, default, results)"
        );
        return "select * from results";
    }

    /// <summary>Rows of a query at the first node, over all three.</summary>
    /// <exception cref="TargetFaultException">It failed; no rows are given then.</exception>
    public IReadOnlyList<string?[]> Rows(string sql, params string[] settings) =>
        [
            .. Ask(0, "cluster", sql, settings)
                .Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Select(TraceText.ReadRow),
        ];

    /// <summary>How many of the rows a node holds itself.</summary>
    public int RowsOn(int node) =>
        int.Parse(Ask(node, "default", "select count() from records"), CultureInfo.InvariantCulture);

    public void Stop(int node) => _servers[node].Dispose();

    public void Dispose()
    {
        foreach (var server in _servers)
        {
            server.Dispose();
        }
    }

    private void Start(int node)
    {
        var server = _servers[node];
        foreach (var folder in new[] { "data", "scratch" })
        {
            Directory.CreateDirectory(Path.Combine(server.Folder, folder));
        }

        var configuration = Path.Combine(server.Folder, "config.xml");
        File.WriteAllText(configuration, Configuration(node));
        File.WriteAllText(Path.Combine(server.Folder, "users.xml"), Users);
        server.HandOver();
        server.Start(
            "clickhouse-server",
            ["--config-file=" + configuration],
            () => Client(node, "default", "select 1", []).Status == 0
        );
    }

    /// <summary>Limits as the emitted file asks for. A row is laid on its node before an insert is done.</summary>
    private const string Users = """
        <yandex>
          <profiles><default>
            <max_query_size>100000000</max_query_size>
            <max_ast_depth>10000</max_ast_depth>
            <max_ast_elements>10000000</max_ast_elements>
            <max_expanded_ast_elements>100000000</max_expanded_ast_elements>
            <skip_unavailable_shards>0</skip_unavailable_shards>
            <insert_distributed_sync>1</insert_distributed_sync>
          </default></profiles>
          <users><default>
            <password></password><networks><ip>127.0.0.1</ip></networks>
            <profile>default</profile><quota>default</quota>
          </default></users>
          <quotas><default></default></quotas>
        </yandex>
        """;

    private string Configuration(int node) =>
        $"""
            <yandex>
              <logger><level>warning</level><log>{_servers[node].Folder}/server.log</log></logger>
              <listen_host>127.0.0.1</listen_host>
              <tcp_port>{_ports[node]}</tcp_port>
              <path>{_servers[node].Folder}/data/</path>
              <tmp_path>{_servers[node].Folder}/scratch/</tmp_path>
              <users_config>users.xml</users_config>
              <default_profile>default</default_profile>
              <default_database>default</default_database>
              <mark_cache_size>16777216</mark_cache_size>
              <remote_servers><three>{string.Concat(_ports.Select(Shard))}</three></remote_servers>
            </yandex>
            """;

    private static string Shard(int port) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"<shard><replica><host>127.0.0.1</host><port>{port}</port></replica></shard>"
        );

    private string Ask(int node, string database, string input, params string[] settings)
    {
        var (status, output, complaint) = Client(node, database, input, settings);
        return status == 0
            ? output
            : throw new TargetFaultException(
                complaint
                    .Split('\n')
                    .FirstOrDefault(l => l.Contains("Exception", StringComparison.Ordinal), complaint)
            );
    }

    private (int Status, string Output, string Complaint) Client(
        int node,
        string database,
        string input,
        IReadOnlyList<string> settings
    ) =>
        _servers[0]
            .Run(
                "clickhouse-client",
                [
                    "--host",
                    "127.0.0.1",
                    "--port",
                    _ports[node].ToString(CultureInfo.InvariantCulture),
                    "--database",
                    database,
                    "--max_query_size",
                    "100000000",
                    "--max_ast_depth",
                    "10000",
                    "--format",
                    "TabSeparated",
                    .. settings,
                ],
                input: input
            );
}
