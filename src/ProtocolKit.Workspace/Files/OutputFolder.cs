namespace ProtocolKit.Workspace.Files;

/// <summary>
/// Files are written beside and moved into place together at the end: a run that fails leaves the earlier ones whole.
/// </summary>
public sealed class OutputFolder : IDisposable
{
    private readonly string _folder;
    private readonly string _temporary;
    private readonly List<string> _names = [];
    private readonly AtExit _atExit;

    /// <exception cref="FileProblemException">The folder can't be made.</exception>
    public OutputFolder(string folder)
    {
        _folder = Path.GetFullPath(folder);
        _temporary = Path.Combine(_folder, $".unfinished-{Path.GetRandomFileName()}");
        _atExit = new AtExit(RemoveUnfinished);
        Guard(() => Directory.CreateDirectory(_temporary));
    }

    /// <summary>Where a file stands until it is moved, for programs that write it themselves.</summary>
    public string Reserve(string name)
    {
        var path = Path.Combine(_temporary, name);
        Guard(() => Directory.CreateDirectory(Path.GetDirectoryName(path)!));
        if (!_names.Contains(name))
        {
            _names.Add(name);
        }

        return path;
    }

    public void Write(string name, string text)
    {
        var path = Reserve(name);
        Guard(() => File.WriteAllText(path, text));
    }

    public void Write(string name, byte[] bytes)
    {
        var path = Reserve(name);
        Guard(() => File.WriteAllBytes(path, bytes));
    }

    /// <summary>Moves everything reserved and written into place.</summary>
    public IReadOnlyList<string> Finish()
    {
        var done = new List<string>();
        foreach (var name in _names.Where(n => File.Exists(Path.Combine(_temporary, n))))
        {
            var target = Path.Combine(_folder, name);
            Guard(() =>
            {
                Directory.CreateDirectory(Path.GetDirectoryName(target)!);
                File.Move(Path.Combine(_temporary, name), target, overwrite: true);
            });
            done.Add(name);
        }

        return done;
    }

    public void Dispose()
    {
        _atExit.Dispose();
        RemoveUnfinished();
    }

    private void RemoveUnfinished()
    {
        if (Directory.Exists(_temporary))
        {
            Directory.Delete(_temporary, recursive: true);
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
