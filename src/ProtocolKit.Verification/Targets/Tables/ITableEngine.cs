namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>What runs emitted code over a table.</summary>
internal interface ITableEngine : IDisposable
{
    /// <summary>How many rows it takes at once with profit.</summary>
    int BatchSize { get; }

    /// <exception cref="TargetUnavailableException">It isn't there, or doesn't come up.</exception>
    void Start();

    /// <summary>
    /// Rows of text, one cell a column of the table of records, the first the case. Back come, in any order, the
    /// cells of each row of results and every field and line.
    /// </summary>
    /// <exception cref="TargetFaultException">The code failed.</exception>
    IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows);
}

/// <param name="Results">Cells in the order of the result's columns; null where there is nothing.</param>
/// <param name="Trace">Every field and line, in the order in which this engine says them, commas between.</param>
internal sealed record TableRow(IReadOnlyList<string?> Results, string Trace);
