using System.ComponentModel;

namespace ProtocolKit.Verification.Targets;

/// <summary>
/// Engines and their files, taken away if this process ends, of Ctrl+C for example, before they are in the usual course. From then
/// on none may be started: the run goes on for a moment in which its engines are gone.
/// </summary>
internal sealed class AtExit : IDisposable
{
    private static volatile bool s_isEnding;

    private readonly EventHandler _handler;

    /// <exception cref="OperationCanceledException">The process is ending.</exception>
    public AtExit(Action remove)
    {
        ThrowIfEnding();
        _handler = (_, _) =>
        {
            s_isEnding = true;
            try
            {
                remove();
            }
            catch (Exception e) when (e is IOException or InvalidOperationException or Win32Exception)
            {
                // It is being taken away in the usual course at this moment.
            }
        };
        AppDomain.CurrentDomain.ProcessExit += _handler;
    }

    /// <exception cref="OperationCanceledException">The process is ending.</exception>
    public static void ThrowIfEnding()
    {
        if (s_isEnding)
        {
            throw new OperationCanceledException("The process is ending.");
        }
    }

    public void Dispose() => AppDomain.CurrentDomain.ProcessExit -= _handler;
}
