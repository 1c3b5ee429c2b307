using ProtocolKit.Cli.Reporting;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace.Batch;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Cli.Commands;

/// <summary><c>score FILE TABLE.csv -o RESULTS.csv</c>, or <c>.parquet</c> for either: a table of any length, a row a record.</summary>
internal static class TableScore
{
    public static bool IsTable(string path) =>
        path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase)
        || path.EndsWith(".parquet", StringComparison.OrdinalIgnoreCase);

    public static int Run(
        Protocol protocol,
        string table,
        string? output,
        RecordOptions options,
        Terminal terminal
    )
    {
        if (output is null)
        {
            terminal.Tell("Say where the results of a table go, as in: -o results.csv");
            return ExitCode.WrongUse;
        }

        if (!File.Exists(table))
        {
            terminal.Tell($"There is no file {table}.");
            return ExitCode.HasErrors;
        }

        var mistakes = output + ".errors.csv";
        using var orderly = terminal.Interruption?.EndsByItself();
        try
        {
            var done = TableScoring.Score(
                protocol,
                table,
                output,
                mistakes,
                options,
                RowProgress.Of(terminal),
                terminal.Interruption?.Token ?? CancellationToken.None
            );
            terminal.Tell(
                $"{CheckReport.Plural((int)Math.Min(done.Scored, int.MaxValue), "row")} scored, into {output}."
            );
            if (done.Refused > 0)
            {
                terminal.Tell(
                    $"{CheckReport.Plural((int)Math.Min(done.Refused, int.MaxValue), "row")} not scored; {mistakes} says why, with line and column."
                );
            }

            return done.Refused > 0 ? ExitCode.HasErrors : ExitCode.Done;
        }
        catch (StudyDataException bad)
        {
            terminal.Tell(bad.Message);
            terminal.Tell("Nothing was scored.");
            return ExitCode.HasErrors;
        }
        catch (OperationCanceledException)
        {
            terminal.Tell("Stopped. Nothing was written; earlier results are as they were.");
            return terminal.Interruption!.Status;
        }
    }

    /// <summary>How many rows are read, on one line of a terminal; how many there are is not known before.</summary>
    private sealed class RowProgress(TextWriter to) : IProgress<long>
    {
        public static RowProgress? Of(Terminal terminal) =>
            Console.IsErrorRedirected || !ReferenceEquals(terminal.Messages, Console.Error)
                ? null
                : new RowProgress(terminal.Messages);

        public void Report(long value) => to.Write($"\r{value} rows read\r");
    }
}
