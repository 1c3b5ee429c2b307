namespace ProtocolKit.Verification;

/// <summary>Work on threads of its own: sums of hundreds of parts are as many calls deep in an engine that walks the code.</summary>
internal static class LargeStack
{
    private const int Size = 256 * 1024 * 1024;

    /// <summary>How many threads a batch is shared out among.</summary>
    public static int Threads { get; } = Math.Clamp(Environment.ProcessorCount, 1, 8);

    public static Task<T> Start<T>(Func<T> work)
    {
        var done = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        var thread = new Thread(
            () =>
            {
                try
                {
                    done.SetResult(work());
                }
                catch (Exception e) when (e is not OutOfMemoryException)
                {
                    // Thrown again, as it was, where the result is waited for.
                    done.SetException(e);
                }
            },
            Size
        )
        {
            IsBackground = true,
        };
        thread.Start();
        return done.Task;
    }

    /// <summary>Shares out items among threads, each with a number from 0; the results are in the items' order.</summary>
    public static IReadOnlyList<TResult> Share<T, TResult>(
        IReadOnlyList<T> items,
        Func<int, T[], IReadOnlyList<TResult>> work
    )
    {
        var size = Math.Max(1, (items.Count + Threads - 1) / Threads);
        var parts = items.Chunk(size).Select((part, i) => Start(() => work(i, part))).ToList();
        return [.. parts.SelectMany(p => p.GetAwaiter().GetResult())];
    }
}
