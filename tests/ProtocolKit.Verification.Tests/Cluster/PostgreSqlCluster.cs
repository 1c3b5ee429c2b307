using System.Globalization;
using ProtocolKit.Verification.Targets;
using ProtocolKit.Verification.Targets.Tables;

namespace ProtocolKit.Verification.Tests.Cluster;

/// <summary>
/// Three PostgreSQL servers on loopback: one is asked, the others hold half of the records each. At the first, <c>records</c> is a
/// table whose partitions are foreign tables on the others, joined by postgres_fdw.
/// </summary>
/// <param name="query">The emitted query.</param>
/// <param name="traced">The same with its trace as the last column.</param>
/// <param name="onNodes">Whether each node scores its own rows, by a view, and results alone are gathered.</param>
internal sealed class PostgreSqlCluster(
    IReadOnlyList<string> columns,
    string query,
    string traced,
    bool onNodes
) : ITableEngine
{
    private const int Nodes = 2;

    /// <summary>The one that is asked stands behind the nodes.</summary>
    private const int Asked = Nodes;

    private readonly IReadOnlyList<Server> _servers =
    [
        .. Enumerable.Range(0, Nodes + 1).Select(_ => new Server("PostgreSQL")),
    ];
    private readonly int[] _ports = [.. Enumerable.Range(0, Nodes + 1).Select(_ => Server.FreePort())];

    public int BatchSize => 4096;

    public void Start()
    {
        for (var server = 0; server <= Nodes; server++)
        {
            Start(server);
        }

        var names = columns.Select(c => $"\"{c.Replace("\"", "\"\"", StringComparison.Ordinal)}\" text");
        var table = $"create table records ({string.Join(", ", names)})";
        Ask(Asked, $"create extension postgres_fdw;\n{table} partition by hash (\"case\");\n");
        for (var node = 0; node < Nodes; node++)
        {
            Ask(node, $"{table};\ncreate view results as\n{query};\ncreate view traced as\n{traced};\n");
            Ask(Asked, Node(node));
        }

        foreach (var view in new[] { "results", "traced" })
        {
            Ask(Asked, Gathered(view));
        }
    }

    public IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows)
    {
        Fill(rows);
        var traces = Rows(Traced).ToDictionary(r => r[0]!, r => r[^1]!, StringComparer.Ordinal);
        return
        [
            .. Rows(Query).Select(r => new TableRow(r, TraceText.Read(traces.GetValueOrDefault(r[0]!, "")))),
        ];
    }

    /// <summary>Lays rows into the table at the first, which lays each on the node its case falls to.</summary>
    public void Fill(IReadOnlyList<string[]> rows)
    {
        File.WriteAllText(
            Path.Combine(_servers[Asked].Folder, "rows.txt"),
            TraceText.WriteRows(rows, blankIsNull: true)
        );
        Ask(Asked, "truncate records;\n\\copy records from 'rows.txt'\n");
    }

    /// <summary>What gives the scored rows of all nodes.</summary>
    public string Query => onNodes ? "select * from results" : query;

    private string Traced => onNodes ? "select * from traced" : traced;

    /// <exception cref="TargetFaultException">It failed; no rows are given then.</exception>
    public IReadOnlyList<string?[]> Rows(string sql) =>
        [
            .. Ask(Asked, $"copy (\n{sql}\n) to stdout;\n")
                .Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Select(TraceText.ReadRow),
        ];

    /// <summary>How many of the rows a node holds itself.</summary>
    public int RowsOn(int node) =>
        int.Parse(Ask(node, "copy (select count(*) from records) to stdout;"), CultureInfo.InvariantCulture);

    public void Stop(int node) => _servers[node].Dispose();

    public void Dispose()
    {
        foreach (var server in _servers)
        {
            server.Dispose();
        }
    }

    private string Node(int node) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"""
            create server node_{node} foreign data wrapper postgres_fdw options
              (host '127.0.0.1', port '{_ports[node]}', dbname 'postgres', async_capable 'true',
               fetch_size '5000', batch_size '100');
            create user mapping for verify server node_{node} options (user 'verify');
            create foreign table records_{node} partition of records
              for values with (modulus {Nodes}, remainder {node})
              server node_{node} options (table_name 'records');
            create schema node_{node};
            import foreign schema public limit to (results, traced) from server node_{node} into node_{node};

            """
        );

    /// <summary>A table whose partitions are the nodes' views, cut as the records are.</summary>
    private static string Gathered(string view) =>
        $"create table {view} (like node_0.{view}) partition by hash (\"case\");\n"
        + string.Concat(
            Enumerable
                .Range(0, Nodes)
                .Select(n =>
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"alter table {view} attach partition node_{n}.{view} for values with (modulus {Nodes}, remainder {n});\n"
                    )
                )
        );

    private void Start(int number)
    {
        var server = _servers[number];
        server.HandOver();
        var data = Path.Combine(server.Folder, "data");
        var made = server.Run(
            "initdb",
            ["-D", data, "-A", "trust", "-U", "verify", "-E", "UTF8", "--locale=C", "--no-sync"],
            asOther: true
        );
        if (made.Status != 0)
        {
            throw new TargetUnavailableException($"PostgreSQL's initdb failed: {made.Complaint}");
        }

        string[] settings =
        [
            "listen_addresses=127.0.0.1",
            "unix_socket_directories=",
            "fsync=off",
            "jit=off",
        ];
        server.Start(
            "postgres",
            ["-D", data, "-p", Port(number), .. settings.SelectMany(s => new[] { "-c", s })],
            () => Psql(number, "select 1;").Status == 0
        );
    }

    private string Ask(int server, string commands)
    {
        var (status, output, complaint) = Psql(server, commands);
        return status == 0
            ? output
            : throw new TargetFaultException(
                complaint
                    .Split('\n')
                    .FirstOrDefault(l => l.Contains("ERROR", StringComparison.Ordinal), complaint)
            );
    }

    private (int Status, string Output, string Complaint) Psql(int server, string commands) =>
        _servers[server]
            .Run(
                "psql",
                [
                    .. new[] { "-h", "127.0.0.1", "-p", Port(server), "-U", "verify", "-d", "postgres" },
                    .. new[] { "-X", "-q", "-v", "ON_ERROR_STOP=1" },
                ],
                input: commands
            );

    private string Port(int server) => _ports[server].ToString(CultureInfo.InvariantCulture);
}
