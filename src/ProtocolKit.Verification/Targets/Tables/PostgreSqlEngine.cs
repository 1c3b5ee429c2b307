using System.Globalization;

namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>A PostgreSQL server of its own on loopback, spoken to through psql.</summary>
/// <param name="program">Where to find a program of the server, by its usual name.</param>
internal sealed class PostgreSqlEngine(
    IReadOnlyList<string> columns,
    string query,
    string traced,
    Func<string, string> program
) : ITableEngine
{
    private readonly Server _server = new("PostgreSQL");
    private readonly int _port = Server.FreePort();

    public int BatchSize => 4096;

    public void Start()
    {
        _server.HandOver();
        var data = Path.Combine(_server.Folder, "data");
        var made = _server.Run(
            program("initdb"),
            ["-D", data, "-A", "trust", "-U", "verify", "-E", "UTF8", "--locale=C", "--no-sync"],
            asOther: true
        );
        if (made.Status != 0)
        {
            throw new TargetUnavailableException($"PostgreSQL's initdb failed: {FirstLine(made.Complaint)}");
        }

        _server.Start(
            program("postgres"),
            [
                "-D",
                data,
                "-p",
                Port,
                "-c",
                "listen_addresses=127.0.0.1",
                "-c",
                "unix_socket_directories=",
                "-c",
                "fsync=off",
                "-c",
                "jit=off",
            ],
            () => Psql("select 1;").Status == 0
        );
        var names = columns.Select(c => $"\"{c.Replace("\"", "\"\"", StringComparison.Ordinal)}\" text");
        Ask($"create table records ({string.Join(", ", names)});");
        File.WriteAllText(Path.Combine(_server.Folder, "plain.sql"), $"copy (\n{query}\n) to stdout;\n");
        File.WriteAllText(Path.Combine(_server.Folder, "traced.sql"), $"copy (\n{traced}\n) to stdout;\n");
    }

    public IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows)
    {
        var file = Path.Combine(_server.Folder, "rows.txt");
        File.WriteAllText(file, TraceText.WriteRows(rows, blankIsNull: true));
        Ask("truncate records;\n\\copy records from 'rows.txt'\n");
        var traces = Rows("\\i traced.sql\n").ToDictionary(r => r[0]!, r => r[^1]!, StringComparer.Ordinal);
        return
        [
            .. Rows("\\i plain.sql\n")
                .Select(r => new TableRow(r, TraceText.Read(traces.GetValueOrDefault(r[0]!, "")))),
        ];
    }

    public void Dispose() => _server.Dispose();

    private string Port => _port.ToString(CultureInfo.InvariantCulture);

    private IEnumerable<string?[]> Rows(string commands) =>
        Ask(commands).Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(TraceText.ReadRow);

    private string Ask(string commands)
    {
        var (status, output, complaint) = Psql(commands);
        return status == 0 ? output : throw new TargetFaultException(FirstLine(complaint));
    }

    private (int Status, string Output, string Complaint) Psql(string commands) =>
        _server.Run(
            program("psql"),
            [
                "-h",
                "127.0.0.1",
                "-p",
                Port,
                "-U",
                "verify",
                "-d",
                "postgres",
                "-X",
                "-q",
                "-v",
                "ON_ERROR_STOP=1",
            ],
            input: commands
        );

    private static string FirstLine(string complaint) =>
        complaint.Split('\n').FirstOrDefault(l => l.Contains("ERROR", StringComparison.Ordinal))
        ?? complaint.Split('\n')[0];
}
