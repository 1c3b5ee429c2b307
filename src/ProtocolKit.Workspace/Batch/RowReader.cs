using System.Globalization;
using System.Threading.Channels;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Scoring.Batch;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Batch;

/// <summary>Reads the rows of a table into blocks, and writes down what is wrong with the others.</summary>
internal sealed class RowReader(Protocol protocol, string input, RecordOptions options, TextWriter mistakes)
{
    private const int TellEvery = 20_000;

    public long Scored { get; private set; }

    public long Refused { get; private set; }

    public void Read(
        ChannelReader<RowBlock> free,
        ChannelWriter<RowBlock> full,
        IProgress<long>? progress,
        CancellationToken cancellation
    )
    {
        mistakes.Write("line,column,key,problem,mend\n");
        using IRowSource rows = ParquetTable.Is(input) ? new ParquetRows(input) : new CsvRows(input);
        var name = Path.GetFileName(input);
        Check(rows.Columns, name);
        var encoder = new RowEncoder(protocol, rows.Columns, name, options);
        var cases = rows.Columns.ToList().IndexOf(RecordKeys.Case);
        RowCells cells = rows.Cell;
        var block = Take(free, cancellation);
        while (rows.Read())
        {
            cancellation.ThrowIfCancellationRequested();
            Add(rows, encoder, cells, cases, block);
            if ((Scored + Refused) % TellEvery == 0)
            {
                progress?.Report(Scored + Refused);
            }

            if (block.Count == RowBlock.Size)
            {
                full.TryWrite(block);
                block = Take(free, cancellation);
            }
        }

        full.TryWrite(block);
        progress?.Report(Scored + Refused);
    }

    private void Add(IRowSource rows, RowEncoder encoder, RowCells cells, int cases, RowBlock block)
    {
        var row = rows.Line;
        if (rows.Cells > rows.Columns.Count)
        {
            Refused++;
            Tell(
                row,
                rows.Columns.Count + 1,
                "",
                $"The row has {rows.Cells} cells, and there are {rows.Columns.Count} columns.",
                "Look for a comma too many, or put quotation marks around a text that holds one."
            );
            return;
        }

        var problems = encoder.Read(cells, row, block.Fields, block.Count);
        if (problems.Count == 0)
        {
            block.Cases[block.Count] = cells(cases).ToString();
            block.Count++;
            Scored++;
            return;
        }

        Refused++;
        foreach (var problem in problems)
        {
            Tell(problem.Origin.Line, problem.Origin.Column, problem.Key, problem.Message, problem.Mend);
        }
    }

    private void Check(IReadOnlyList<string> columns, string name)
    {
        if (columns.Count == 0)
        {
            throw new StudyDataException($"{name} is empty: there is no row of column names.");
        }

        var wrong = TableColumns.Check(columns, name, 1, protocol, []);
        if (wrong.Count > 0)
        {
            throw new StudyDataException(string.Join('\n', wrong.Select(w => w.ToString())));
        }
    }

    private static RowBlock Take(ChannelReader<RowBlock> free, CancellationToken cancellation) =>
        free.ReadAsync(cancellation).AsTask().GetAwaiter().GetResult();

    private void Tell(int line, int column, string key, string problem, string mend) =>
        mistakes.Write(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{line},{column},{Quoted(key)},{Quoted(problem)},{Quoted(mend)}\n"
            )
        );

    /// <summary>What begins like a formula is kept from being one where the list is opened in a spreadsheet.</summary>
    private static string Quoted(string text)
    {
        var safe =
            text.Length > 0 && "=+-@\t\r".Contains(text[0], StringComparison.Ordinal) ? "'" + text : text;
        return "\"" + safe.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";
    }
}
