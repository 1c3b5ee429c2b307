using System.Diagnostics;

namespace ProtocolKit.Architecture.Tests;

/// <summary>The checkout these tests were built from, as git sees it.</summary>
internal static class Repository
{
    private static readonly Lazy<IReadOnlyList<string>> Tracked = new(ListTracked);

    public static string Root { get; } = FindRoot();

    /// <summary>Tracked files that are there, as paths from the root with forward slashes.</summary>
    public static IReadOnlyList<string> Files => Tracked.Value;

    public static IEnumerable<string> FilesUnder(string folder, string ending) =>
        Files.Where(f =>
            f.StartsWith(folder + "/", StringComparison.Ordinal)
            && f.EndsWith(ending, StringComparison.Ordinal)
        );

    public static string FullPath(string path) => Path.Combine(Root, path);

    public static string Read(string path) => File.ReadAllText(FullPath(path));

    private static string FindRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ProtocolKit.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("These tests run inside a checkout.");
    }

    private static IReadOnlyList<string> ListTracked()
    {
        // A checkout owned by somebody else, as on build servers, is still ours to list.
        var start = new ProcessStartInfo("git", ["-c", "safe.directory=*", "ls-files", "-z"])
        {
            WorkingDirectory = Root,
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        using var git = Process.Start(start) ?? throw new InvalidOperationException("git did not start.");
        var listed = git.StandardOutput.ReadToEnd();
        git.WaitForExit();
        if (git.ExitCode != 0)
        {
            throw new InvalidOperationException("git could not list the tracked files.");
        }

        return
        [
            .. listed
                .Split('\0', StringSplitOptions.RemoveEmptyEntries)
                .Where(f => File.Exists(Path.Combine(Root, f)))
                .Order(StringComparer.Ordinal),
        ];
    }
}
