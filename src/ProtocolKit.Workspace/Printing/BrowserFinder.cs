namespace ProtocolKit.Workspace.Printing;

/// <summary>Looks for an installed browser of the Chromium family, on the search path and in its usual places.</summary>
public static class BrowserFinder
{
    private static readonly string[] Commands =
    [
        "chromium",
        "chromium-browser",
        "google-chrome",
        "google-chrome-stable",
        "chrome",
        "microsoft-edge",
        "microsoft-edge-stable",
        "msedge",
        "brave-browser",
        "brave",
    ];

    private static readonly string[] MacApplications =
    [
        "Google Chrome",
        "Chromium",
        "Microsoft Edge",
        "Brave Browser",
    ];

    private static readonly string[] WindowsFolders = ["ProgramFiles", "ProgramFiles(x86)", "LocalAppData"];

    private static readonly string[] WindowsPrograms =
    [
        @"Google\Chrome\Application\chrome.exe",
        @"Chromium\Application\chrome.exe",
        @"Microsoft\Edge\Application\msedge.exe",
        @"BraveSoftware\Brave-Browser\Application\brave.exe",
    ];

    /// <summary>The full path of the first browser found, or nothing.</summary>
    public static string? Find() => Candidates().FirstOrDefault(File.Exists);

    private static IEnumerable<string> Candidates() =>
        OnSearchPath()
            .Concat(
                OperatingSystem.IsWindows() ? OnWindows()
                : OperatingSystem.IsMacOS()
                    ? MacApplications.Select(a => $"/Applications/{a}.app/Contents/MacOS/{a}")
                : []
            );

    private static IEnumerable<string> OnSearchPath()
    {
        var folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(
            Path.PathSeparator,
            StringSplitOptions.RemoveEmptyEntries
        );
        var ending = OperatingSystem.IsWindows() ? ".exe" : "";
        return Commands.SelectMany(command =>
            folders.Select(folder => Path.Combine(folder, command + ending))
        );
    }

    private static IEnumerable<string> OnWindows() =>
        WindowsFolders
            .Select(Environment.GetEnvironmentVariable)
            .OfType<string>()
            .SelectMany(folder => WindowsPrograms.Select(program => Path.Combine(folder, program)));
}
