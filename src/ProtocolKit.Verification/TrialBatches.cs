using ProtocolKit.Model;
using ProtocolKit.Testing;
using ProtocolKit.Verification.Targets;

namespace ProtocolKit.Verification;

/// <summary>
/// Records in batches, each record written down and scored with the reference once for all targets. While targets run a batch,
/// the next one is made ready; no more than those two are ever held here.
/// </summary>
internal sealed class TrialBatches(Protocol protocol, IEnumerable<long[]> sheets) : IDisposable
{
    private const int BatchSize = 1024;

    private readonly IEnumerator<long[][]> _batches = sheets.Chunk(BatchSize).GetEnumerator();
    private Task<IReadOnlyList<Trial>>? _next;

    /// <summary>The next batch; empty after the last.</summary>
    public IReadOnlyList<Trial> Next()
    {
        var batch = (_next ?? LargeStack.Start(Prepared)).GetAwaiter().GetResult();
        _next = LargeStack.Start(Prepared);
        return batch;
    }

    public void Dispose()
    {
        // The sheets are drawn in there; a fault of theirs comes too late to matter.
        _next?.ContinueWith(_ => { }, TaskScheduler.Default).Wait();
        _batches.Dispose();
    }

    private IReadOnlyList<Trial> Prepared() =>
        _batches.MoveNext()
            ? LargeStack.Share(
                _batches.Current,
                (_, part) => Array.ConvertAll(part, f => Trial.Of(protocol, f))
            )
            : [];
}
