using System.ComponentModel;

namespace ProtocolKit.Workspace.Files;

/// <summary>
/// Something to take away if the process ends, of Ctrl+C for example, before it is taken away in the usual course: a program that
/// was started, a folder of unfinished files. While a process ends its other threads go on for a moment; from its first step on
/// nothing of the kind is made any more, and what is being made just then is waited for.
/// </summary>
internal sealed class AtExit : IDisposable
{
    private static readonly Lock s_turn = new();
    private static readonly Stack<AtExit> s_waiting = Listen();
    private static bool s_isEnding;

    private Action? _takeAway;

    private AtExit(Action takeAway) => _takeAway = takeAway;

    /// <exception cref="OperationCanceledException">The process is ending; nothing was made.</exception>
    public static AtExit Of<T>(Func<T> make, Action<T> takeAway, out T made)
    {
        lock (s_turn)
        {
            if (s_isEnding)
            {
                throw new OperationCanceledException("The process is ending.");
            }

            var it = made = make();
            var atExit = new AtExit(() => takeAway(it));
            s_waiting.Push(atExit);
            return atExit;
        }
    }

    /// <summary>It has been, or is being, taken away in the usual course.</summary>
    public void Dispose()
    {
        lock (s_turn)
        {
            _takeAway = null;
            while (s_waiting.TryPeek(out var last) && last._takeAway is null)
            {
                s_waiting.Pop();
            }
        }
    }

    private static Stack<AtExit> Listen()
    {
        AppDomain.CurrentDomain.ProcessExit += (_, _) => TakeAllAway();
        return new Stack<AtExit>();
    }

    /// <summary>The newest first: a program goes before the folder that it writes into.</summary>
    private static void TakeAllAway()
    {
        Action?[] all;
        lock (s_turn)
        {
            s_isEnding = true;
            all = [.. s_waiting.Select(a => a._takeAway)];
        }

        foreach (var takeAway in all)
        {
            Try(takeAway);
        }
    }

    private static void Try(Action? takeAway)
    {
        try
        {
            takeAway?.Invoke();
        }
        catch (Exception e)
            when (e
                    is IOException
                        or UnauthorizedAccessException
                        or InvalidOperationException
                        or Win32Exception
            )
        {
            // It went by itself meanwhile; there is no one left to tell.
        }
    }
}
