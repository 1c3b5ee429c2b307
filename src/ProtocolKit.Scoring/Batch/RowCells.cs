namespace ProtocolKit.Scoring.Batch;

/// <summary>The text of a row's cell, by its column.</summary>
public delegate ReadOnlySpan<char> RowCells(int column);
