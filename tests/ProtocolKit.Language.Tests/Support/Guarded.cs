using System.Diagnostics;

namespace ProtocolKit.Language.Tests.Support;

/// <summary>
/// Compiles on a thread with the smallest stack a user's machine gives (one megabyte), and within a time that even a busy
/// machine keeps: what is refused late or by a crash is a fault.
/// </summary>
internal static class Guarded
{
    private const int Stack = 1024 * 1024;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    public static Compilation Compile(string text, Modules? modules = null) =>
        Run(() =>
            Compilation.Of(
                new SourceText("hostile.protocol", text),
                modules ?? new Modules(new Dictionary<string, string>())
            )
        );

    public static T Run<T>(Func<T> work, TimeSpan? patience = null)
    {
        T? result = default;
        Exception? fault = null;
        var clock = Stopwatch.StartNew();
        var thread = new Thread(
            () =>
            {
                try
                {
                    result = work();
                }
                catch (Exception e)
                {
                    fault = e;
                }
            },
            Stack
        )
        {
            IsBackground = true,
        };
        thread.Start();
        Assert.True(
            thread.Join(patience ?? Patience),
            $"Still running after {clock.Elapsed.TotalSeconds:0} s."
        );
        Assert.True(fault is null, fault?.ToString());
        return result!;
    }
}
