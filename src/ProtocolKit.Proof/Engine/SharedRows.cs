namespace ProtocolKit.Proof.Engine;

/// <summary>The rows of a finished scope, to be read under the names of another scope of the same shape.</summary>
/// <param name="outputs">What the scope hands on; the columns of the rows stand in an order of their own.</param>
internal sealed class SharedRows(RowTable rows, List<Node> outputs)
{
    private readonly int[] _order = [.. rows.Columns.Select(c => outputs.IndexOf(c))];

    /// <summary>Under the names of the scope that was worked out.</summary>
    public RowTable Rows => rows;

    /// <summary>How that was done, while there is room for it.</summary>
    public IReadOnlyList<SetJoin>? Steps { get; set; }

    public RowTable As(List<Node> others) =>
        others == outputs ? rows : new RowTable([.. _order.Select(i => others[i])], rows);
}
