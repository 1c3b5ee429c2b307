using System.Runtime.InteropServices;

namespace ProtocolKit.Cli;

/// <summary>
/// Ctrl+C, a terminal that is closed, a polite request to end. A verb that ends by itself is told, and waited for; any other ends
/// at once, and takes along what it started and its unfinished files (they listen for the end of the process).
/// </summary>
internal sealed class Interruption : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    private readonly TextWriter _messages;
    private readonly CancellationTokenSource _stop = new();
    private readonly PosixSignalRegistration[] _signals;
    private Timer? _limit;
    private int _orderly;

    public Interruption(TextWriter messages)
    {
        _messages = messages;
        _signals =
        [
            Watch(PosixSignal.SIGHUP, 1),
            Watch(PosixSignal.SIGINT, 2),
            Watch(PosixSignal.SIGTERM, 15),
        ];
    }

    /// <summary>For verbs that end by themselves.</summary>
    public CancellationToken Token => _stop.Token;

    /// <summary>As shells have it, 128 and the signal's number; 0 while there was none.</summary>
    public int Status { get; private set; }

    /// <summary>The process is ending: whatever comes of the work now is of no interest.</summary>
    public bool IsEnding { get; private set; }

    /// <summary>Until it is disposed, the verb ends by itself.</summary>
    public IDisposable EndsByItself()
    {
        Interlocked.Increment(ref _orderly);
        return new Orderly(this);
    }

    public void Dispose()
    {
        foreach (var signal in _signals)
        {
            signal.Dispose();
        }

        _limit?.Dispose();
        _stop.Dispose();
    }

    private PosixSignalRegistration Watch(PosixSignal signal, int number) =>
        PosixSignalRegistration.Create(
            signal,
            context =>
            {
                context.Cancel = true;
                Stop(128 + number);
            }
        );

    private void Stop(int status)
    {
        var isFirst = Status == 0;
        Status = status;
        if (isFirst && _orderly > 0)
        {
            _limit = new Timer(_ => End(), null, Patience, Timeout.InfiniteTimeSpan);
            _stop.Cancel();
        }
        else
        {
            End();
        }
    }

    private void End()
    {
        IsEnding = true;
        _messages.Write("\nStopped.\n");
        Environment.Exit(Status);
    }

    private sealed class Orderly(Interruption interruption) : IDisposable
    {
        public void Dispose() => Interlocked.Decrement(ref interruption._orderly);
    }
}
