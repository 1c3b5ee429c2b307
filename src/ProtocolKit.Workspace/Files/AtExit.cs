namespace ProtocolKit.Workspace.Files;

/// <summary>Something to take away if the process ends, of Ctrl+C for example, before it is taken away in the usual course.</summary>
internal sealed class AtExit : IDisposable
{
    private readonly EventHandler _handler;

    public AtExit(Action remove)
    {
        _handler = (_, _) =>
        {
            try
            {
                remove();
            }
            catch (Exception e)
                when (e is IOException or UnauthorizedAccessException or InvalidOperationException)
            {
                // It went by itself meanwhile, or is being written at this moment; there is no one left to tell.
            }
        };
        AppDomain.CurrentDomain.ProcessExit += _handler;
    }

    public void Dispose() => AppDomain.CurrentDomain.ProcessExit -= _handler;
}
