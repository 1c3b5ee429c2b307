namespace ProtocolKit.Workspace.Batch;

/// <summary>Some rows as columns: their fields, and the lines worked out from them.</summary>
internal sealed class RowBlock(int fields, int results)
{
    public const int Size = 1024;

    /// <summary>By row.</summary>
    public string[] Cases { get; } = new string[Size];

    public long[][] Fields { get; } = Columns(fields);

    public long[][] Results { get; } = Columns(results);

    public int Count { get; set; }

    private static long[][] Columns(int count) => [.. Enumerable.Range(0, count).Select(_ => new long[Size])];
}
