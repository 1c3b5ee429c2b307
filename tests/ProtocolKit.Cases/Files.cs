namespace ProtocolKit.Cases;

/// <summary>Reads a case, or says in a case's own form why it couldn't be read.</summary>
internal static class Files
{
    public static string Read(string path)
    {
        try
        {
            return File.ReadAllText(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return "";
        }
    }
}
