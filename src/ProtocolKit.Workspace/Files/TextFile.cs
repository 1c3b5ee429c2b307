using System.Text;

namespace ProtocolKit.Workspace.Files;

/// <summary>Reads files as UTF-8; bytes that are not become a mark that the compiler refuses as no text.</summary>
public static class TextFile
{
    /// <summary>Larger files are not read at all; no protocol, record or table of ours comes near.</summary>
    public const long Largest = 64 * 1024 * 1024;

    /// <exception cref="FileProblemException">It is missing, unreadable or too large.</exception>
    public static string Read(string path)
    {
        try
        {
            var info = new FileInfo(path);
            if (!info.Exists)
            {
                throw new FileProblemException(
                    Directory.Exists(path)
                        ? $"{path} is a folder. Name the file in it."
                        : $"There is no file {path}. Check the name and the folder."
                );
            }

            if (info.Length > Largest)
            {
                throw new FileProblemException(
                    $"{path} has more than {Largest / 1024 / 1024} megabytes. Check that it is the file you meant."
                );
            }

            return Encoding.UTF8.GetString(File.ReadAllBytes(path));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new FileProblemException($"{path} can't be read: {e.Message}", e);
        }
    }
}

/// <summary>A file can't be read or written; the message says which and why.</summary>
public sealed class FileProblemException : Exception
{
    public FileProblemException() { }

    public FileProblemException(string message)
        : base(message) { }

    public FileProblemException(string message, Exception inner)
        : base(message, inner) { }
}
