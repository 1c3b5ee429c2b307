namespace ProtocolKit.Workspace.Files;

/// <summary>
/// Files are written beside and moved into place together at the end: a run that fails leaves the earlier ones whole. Once it is
/// taken away, by its user or because the process ends in the middle of the work, nothing can be written any more.
/// </summary>
/// <remarks>While a process ends its other threads go on: all that touches the folder waits for its turn.</remarks>
public sealed class OutputFolder : IDisposable
{
    private readonly string _folder;
    private readonly string _temporary;
    private readonly List<string> _names = [];
    private readonly Lock _turn = new();
    private readonly AtExit _atExit;
    private bool _isTakenAway;

    /// <exception cref="FileProblemException">The folder can't be made.</exception>
    public OutputFolder(string folder)
    {
        _folder = Path.GetFullPath(folder);
        _atExit = AtExit.Of(MakeTemporary, _ => TakeAway(), out _temporary);
    }

    /// <summary>Where a file stands until it is moved, for programs that write it themselves.</summary>
    /// <exception cref="OperationCanceledException">The folder has been taken away; so for all that writes.</exception>
    public string Reserve(string name)
    {
        lock (_turn)
        {
            if (_isTakenAway)
            {
                throw new OperationCanceledException(
                    "The output has been taken away; nothing more can be written."
                );
            }

            var path = Path.Combine(_temporary, name);
            Guard(() => Directory.CreateDirectory(Path.GetDirectoryName(path)!));
            if (!_names.Contains(name))
            {
                _names.Add(name);
            }

            return path;
        }
    }

    public void Write(string name, string text) => Write(name, path => File.WriteAllText(path, text));

    public void Write(string name, byte[] bytes) => Write(name, path => File.WriteAllBytes(path, bytes));

    /// <summary>Moves everything reserved and written into place.</summary>
    public IReadOnlyList<string> Finish()
    {
        lock (_turn)
        {
            var written = _names.Where(n => File.Exists(Path.Combine(_temporary, n))).ToList();
            written.ForEach(n => Guard(() => Place(n)));
            return written;
        }
    }

    public void Dispose()
    {
        TakeAway();
        _atExit.Dispose();
    }

    private string MakeTemporary()
    {
        var temporary = Path.Combine(_folder, $".unfinished-{Path.GetRandomFileName()}");
        Guard(() => Directory.CreateDirectory(temporary));
        return temporary;
    }

    private void Write(string name, Action<string> write)
    {
        lock (_turn)
        {
            var path = Reserve(name);
            Guard(() => write(path));
        }
    }

    private void Place(string name)
    {
        var target = Path.Combine(_folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(target)!);
        File.Move(Path.Combine(_temporary, name), target, overwrite: true);
    }

    private void TakeAway()
    {
        lock (_turn)
        {
            _isTakenAway = true;
            Leftovers.Remove(_temporary);
        }
    }

    private static void Guard(Action action)
    {
        try
        {
            action();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new FileProblemException($"The output can't be written: {e.Message}", e);
        }
    }
}
