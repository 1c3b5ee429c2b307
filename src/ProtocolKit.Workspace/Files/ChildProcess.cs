using System.Diagnostics;

namespace ProtocolKit.Workspace.Files;

/// <summary>Ends programs that this process started.</summary>
internal static class ChildProcess
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    /// <summary>With all that it started itself, and waits until it is gone: only then does it write nothing any more.</summary>
    public static void End(Process process)
    {
        process.Kill(entireProcessTree: true);
        process.WaitForExit(Patience);
    }
}
