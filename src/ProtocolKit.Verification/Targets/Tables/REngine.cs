namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>
/// Emitted R in Rscript: a process that reads a table from a file, and writes results and traces into two others.
/// </summary>
internal sealed class REngine(IReadOnlyList<string> columns, string code, string program) : ITableEngine
{
    private EngineProcess? _engine;

    public int BatchSize => 4096;

    public void Start()
    {
        _engine = new EngineProcess(
            new EngineCommand("R", program, ["--vanilla", "--no-echo", "harness.R"], ["R_PROFILE", "R_LIBS"]),
            [("scoring.R", code), ("harness.R", HarnessText.Of("harness.R"))]
        );
    }

    public IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows)
    {
        var all = rows.Prepend([.. columns]);
        File.WriteAllText(FileOf("rows.txt"), TraceText.WriteRows(all, blankIsNull: false));
        var answer = _engine!.Ask("rows.txt");
        if (answer != "done")
        {
            throw new TargetFaultException(answer);
        }

        var traces = File.ReadLines(FileOf("traces.txt"));
        return
        [
            .. File.ReadLines(FileOf("results.txt"))
                .Select(TraceText.ReadRow)
                .Zip(traces, (r, t) => new TableRow(r, t.Replace('\t', ','))),
        ];
    }

    public void Dispose() => _engine?.Dispose();

    private string FileOf(string name) => Path.Combine(_engine!.Folder, name);
}
