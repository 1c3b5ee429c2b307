using System.Text;

namespace ProtocolKit.Workspace.Batch;

/// <summary>A file that is written beside its place and stands there only once it is whole.</summary>
internal sealed class PendingFile : IDisposable
{
    private readonly string _path;
    private readonly string _beside;
    private bool _isKept;

    public PendingFile(string path)
    {
        _path = path;
        _beside = path + ".part";
        Writer = new StreamWriter(_beside, append: false, new UTF8Encoding(false), 1 << 16);
    }

    public StreamWriter Writer { get; }

    /// <summary>Moves it to its place.</summary>
    public void Keep()
    {
        Writer.Dispose();
        File.Move(_beside, _path, overwrite: true);
        _isKept = true;
    }

    /// <summary>Takes an unfinished file away.</summary>
    public void Dispose()
    {
        Writer.Dispose();
        if (!_isKept)
        {
            File.Delete(_beside);
        }
    }
}
