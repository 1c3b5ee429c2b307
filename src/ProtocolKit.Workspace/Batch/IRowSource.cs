namespace ProtocolKit.Workspace.Batch;

/// <summary>Rows of a table one after the other, their cells as text.</summary>
internal interface IRowSource : IDisposable
{
    IReadOnlyList<string> Columns { get; }

    /// <summary>How many cells this row has.</summary>
    int Cells { get; }

    /// <summary>Where this row stands, as messages call it.</summary>
    int Line { get; }

    /// <exception cref="Studies.StudyDataException">The table is broken here.</exception>
    bool Read();

    /// <summary>A cell of this row; empty where there is nothing.</summary>
    ReadOnlySpan<char> Cell(int column);
}
