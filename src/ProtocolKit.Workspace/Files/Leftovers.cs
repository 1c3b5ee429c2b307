namespace ProtocolKit.Workspace.Files;

/// <summary>Takes folders away that a program, just told to end, may still be writing into.</summary>
internal static class Leftovers
{
    private const int Attempts = 20;
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(100);

    /// <summary>Tries again for two seconds; what stays then is held by a program that nobody here can end.</summary>
    public static void Remove(string folder)
    {
        for (var attempt = 0; attempt < Attempts && !IsRemoved(folder); attempt++)
        {
            Thread.Sleep(Pause);
        }
    }

    private static bool IsRemoved(string folder)
    {
        try
        {
            Directory.Delete(folder, recursive: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // A file came in while the others went, or is held for a moment; or the folder is gone, which is as well.
        }

        return !Directory.Exists(folder);
    }
}
