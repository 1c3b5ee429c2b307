using ProtocolKit.Workspace.Studies;
using Sylvan.Data.Csv;

namespace ProtocolKit.Workspace.Batch;

/// <summary>Rows of a comma, semicolon or tab separated table; its first line holds the names.</summary>
internal sealed class CsvRows : IRowSource
{
    private readonly string _name;
    private readonly StreamReader _text;
    private readonly CsvDataReader _csv;

    public CsvRows(string path)
    {
        _name = Path.GetFileName(path);
        _text = new StreamReader(path);
        try
        {
            // The longest cell a record can have is far shorter; a row that has a longer one is told.
            var settings = new CsvDataReaderOptions { HasHeaders = true, BufferSize = 1 << 20 };
            _csv = CsvDataReader.Create(_text, settings);
        }
        catch (CsvFormatException broken)
        {
            _text.Dispose();
            throw Broken(broken);
        }

        Columns = [.. Enumerable.Range(0, _csv.FieldCount).Select(i => _csv.GetName(i).Trim())];
    }

    public IReadOnlyList<string> Columns { get; }

    public int Cells => _csv.RowFieldCount;

    public int Line => _csv.RowNumber + 1;

    public bool Read()
    {
        try
        {
            return _csv.Read();
        }
        catch (CsvFormatException broken)
        {
            throw Broken(broken);
        }
    }

    public ReadOnlySpan<char> Cell(int column) =>
        column < _csv.RowFieldCount ? _csv.GetFieldSpan(column).Trim() : default;

    public void Dispose()
    {
        _csv.Dispose();
        _text.Dispose();
    }

    private StudyDataException Broken(CsvFormatException broken) =>
        new(
            $"{_name}, row {broken.RowNumber + 1}: this is no comma-separated table ({broken.Message}). "
                + "Look for a quotation mark that is never closed.",
            broken
        );
}
