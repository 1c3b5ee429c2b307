using System.Threading.Channels;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Scoring.Batch;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Batch;

/// <param name="Scored">Rows with a result.</param>
/// <param name="Refused">Rows with mistakes: none of them is in the results, all are in the list of mistakes.</param>
public sealed record TableOutcome(long Scored, long Refused);

/// <summary>
/// Scores a table of any length, a row a record. One thread reads rows into blocks of columns, another works them out and writes
/// them; a few blocks go round between them, so memory does not grow with the table. Both files are written beside their
/// places and moved there at the end; without mistakes the list of them has its head alone.
/// </summary>
public static class TableScoring
{
    private const int Blocks = 4;

    /// <param name="input">A comma, semicolon or tab separated table, or one in Parquet.</param>
    /// <param name="output">Where the results go; a name that ends in <c>.parquet</c> gets them in Parquet.</param>
    /// <param name="errors">Where the list of mistakes goes: line, column, key, what is wrong and what to do.</param>
    /// <param name="progress">Told how many rows are read.</param>
    /// <exception cref="StudyDataException">The table can't be read at all; nothing is written.</exception>
    public static TableOutcome Score(
        Protocol protocol,
        string input,
        string output,
        string errors,
        RecordOptions options,
        IProgress<long>? progress,
        CancellationToken cancellation
    )
    {
        using var results = new PendingFile(
            output,
            ParquetTable.Is(output) ? (rows, path) => ParquetTable.Write(protocol, rows, path) : null
        );
        using var mistakes = new PendingFile(errors);
        var outcome = Score(
            protocol,
            input,
            results.Writer,
            mistakes.Writer,
            options,
            progress,
            cancellation
        );
        mistakes.Keep();
        results.Keep();
        return outcome;
    }

    private static TableOutcome Score(
        Protocol protocol,
        string input,
        TextWriter results,
        TextWriter mistakes,
        RecordOptions options,
        IProgress<long>? progress,
        CancellationToken cancellation
    )
    {
        var writer = new ResultWriter(protocol);
        var kernel = BatchKernel.Compile(protocol.Program, writer.Wanted);
        var free = Channel.CreateUnbounded<RowBlock>();
        var full = Channel.CreateUnbounded<RowBlock>();
        for (var i = 0; i < Blocks; i++)
        {
            free.Writer.TryWrite(new RowBlock(protocol.Program.Fields.Count, writer.Wanted.Count));
        }

        results.Write(writer.Header + "\n");
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        var work = Task.Run(
            async () =>
            {
                try
                {
                    await foreach (var block in full.Reader.ReadAllAsync(stop.Token))
                    {
                        kernel.Run(block.Fields, block.Count, block.Results);
                        writer.Write(results, block);
                        block.Count = 0;
                        free.Writer.TryWrite(block);
                    }
                }
                catch
                {
                    // The reader must not wait for blocks that never come back.
                    free.Writer.TryComplete();
                    throw;
                }
            },
            stop.Token
        );
        var reader = new RowReader(protocol, input, options, mistakes);
        try
        {
            reader.Read(free.Reader, full.Writer, progress, stop.Token);
            full.Writer.Complete();
            work.GetAwaiter().GetResult();
        }
        catch
        {
            stop.Cancel();
            throw;
        }

        return new TableOutcome(reader.Scored, reader.Refused);
    }
}
