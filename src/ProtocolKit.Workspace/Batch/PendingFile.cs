using System.Text;

namespace ProtocolKit.Workspace.Batch;

/// <summary>
/// A file that is written beside its place and stands there only once it is whole. What a killed run leaves beside it ends in
/// <c>.part</c> and is written over by the next.
/// </summary>
internal sealed class PendingFile : IDisposable
{
    private readonly string _path;
    private readonly string _beside;
    private readonly string _written;
    private readonly Action<string, string>? _convert;
    private bool _isKept;

    /// <param name="convert">Makes the file from the text that was written, from one path to the other; null: it is that text.</param>
    public PendingFile(string path, Action<string, string>? convert = null)
    {
        (_path, _convert) = (path, convert);
        _beside = path + ".part";
        _written = convert is null ? _beside : path + ".rows.part";
        Writer = new StreamWriter(_written, append: false, new UTF8Encoding(false), 1 << 16);
    }

    public StreamWriter Writer { get; }

    /// <summary>Moves it to its place.</summary>
    public void Keep()
    {
        Writer.Dispose();
        if (_convert is not null)
        {
            _convert(_written, _beside);
            File.Delete(_written);
        }

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
            File.Delete(_written);
        }
    }
}
