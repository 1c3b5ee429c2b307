using System.Globalization;

namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>A ClickHouse server of its own on loopback, spoken to through its client.</summary>
/// <param name="program">Where to find a program of the server, by its usual name.</param>
internal sealed class ClickHouseEngine(
    IReadOnlyList<string> columns,
    string query,
    string traced,
    Func<string, string> program
) : ITableEngine
{
    private static readonly IReadOnlyList<string> Limits =
    [
        "--max_query_size",
        "100000000",
        "--max_ast_depth",
        "10000",
        "--max_ast_elements",
        "10000000",
        "--max_expanded_ast_elements",
        "100000000",
    ];

    private readonly Server _server = new("ClickHouse");
    private readonly int _port = Server.FreePort();

    /// <summary>Very many: planning a query of a thousand lines takes it a minute, however few the rows.</summary>
    public int BatchSize => 131_072;

    public void Start()
    {
        foreach (var folder in new[] { "data", "scratch" })
        {
            Directory.CreateDirectory(Path.Combine(_server.Folder, folder));
        }

        File.WriteAllText(Path.Combine(_server.Folder, "config.xml"), Configuration());
        File.WriteAllText(Path.Combine(_server.Folder, "users.xml"), Users);
        _server.HandOver();
        _server.Start(
            program("clickhouse-server"),
            ["--config-file=" + Path.Combine(_server.Folder, "config.xml")],
            () => Client(["--query", "select 1"]).Status == 0
        );
        var names = columns.Select(c =>
            $"`{c.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("`", "\\`", StringComparison.Ordinal)}` String"
        );
        Ask([], $"create table records ({string.Join(", ", names)}) engine = Memory");
    }

    public IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows)
    {
        Ask(["--query", "truncate table records"], null);
        if (rows.Count == 0)
        {
            return [.. Rows(query).Select(r => new TableRow(r, ""))];
        }

        Ask(
            ["--query", "insert into records format TabSeparated"],
            TraceText.WriteRows(rows, blankIsNull: false)
        );
        var traces = Rows(traced).ToDictionary(r => r[0]!, r => r[^1]!, StringComparer.Ordinal);
        return
        [
            .. Rows(query).Select(r => new TableRow(r, TraceText.Read(traces.GetValueOrDefault(r[0]!, "")))),
        ];
    }

    public void Dispose() => _server.Dispose();

    private const string Users =
        "<yandex><profiles><default><max_memory_usage>8000000000</max_memory_usage></default></profiles>"
        + "<users><default><password></password><networks><ip>127.0.0.1</ip></networks>"
        + "<profile>default</profile><quota>default</quota></default></users>"
        + "<quotas><default></default></quotas></yandex>\n";

    private string Configuration() =>
        $"""
            <yandex>
              <logger><level>warning</level><log>{_server.Folder}/server.log</log></logger>
              <listen_host>127.0.0.1</listen_host>
              <tcp_port>{_port}</tcp_port>
              <path>{_server.Folder}/data/</path>
              <tmp_path>{_server.Folder}/scratch/</tmp_path>
              <users_config>users.xml</users_config>
              <default_profile>default</default_profile>
              <default_database>default</default_database>
              <mark_cache_size>16777216</mark_cache_size>
            </yandex>
            """;

    private IEnumerable<string?[]> Rows(string sql) =>
        Ask(Limits, sql).Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(TraceText.ReadRow);

    private string Ask(IReadOnlyList<string> arguments, string? input)
    {
        var (status, output, complaint) = Client(arguments, input);
        return status == 0 ? output : throw new TargetFaultException(FirstLine(complaint));
    }

    private (int Status, string Output, string Complaint) Client(
        IReadOnlyList<string> arguments,
        string? input = null
    ) =>
        _server.Run(
            program("clickhouse-client"),
            [
                "--host",
                "127.0.0.1",
                "--port",
                _port.ToString(CultureInfo.InvariantCulture),
                "--format",
                "TabSeparated",
                .. arguments,
            ],
            input: input
        );

    private static string FirstLine(string complaint) =>
        complaint.Split('\n').FirstOrDefault(l => l.Contains("Exception", StringComparison.Ordinal))
        ?? complaint.Split('\n')[0];
}
