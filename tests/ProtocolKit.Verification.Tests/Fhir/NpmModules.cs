using System.ComponentModel;
using System.Diagnostics;

namespace ProtocolKit.Verification.Tests.Fhir;

/// <summary>npm's fhirpath in a temporary folder, installed once a run by the versions locked beside this file.</summary>
internal static class NpmModules
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);
    private static readonly Lazy<string> Installed = new(Install);

    /// <summary>A folder that holds node_modules; one without, where npm isn't installed or reached nothing.</summary>
    public static string Folder => Installed.Value;

    /// <summary>What verify is told, so that it finds them.</summary>
    public static IReadOnlyDictionary<string, string> Programs =>
        new Dictionary<string, string> { ["fhirpath"] = Folder };

    private static string Install()
    {
        var folder = Directory.CreateTempSubdirectory("protocolkit-fhirpath-").FullName;
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(folder, recursive: true);
        foreach (var name in new[] { "package.json", "package-lock.json" })
        {
            File.Copy(Path.Combine(AppContext.BaseDirectory, "Fhir", name), Path.Combine(folder, name));
        }

        try
        {
            var npm = OperatingSystem.IsWindows() ? "npm.cmd" : "npm";
            string[] arguments = ["ci", "--no-audit", "--no-fund", "--ignore-scripts"];
            using var process = Process.Start(
                new ProcessStartInfo(npm, arguments)
                {
                    WorkingDirectory = folder,
                    RedirectStandardOutput = true,
                    RedirectStandardError = true,
                }
            )!;
            process.OutputDataReceived += (_, _) => { };
            process.ErrorDataReceived += (_, _) => { };
            process.BeginOutputReadLine();
            process.BeginErrorReadLine();
            process.WaitForExit(Patience);
        }
        catch (Win32Exception)
        {
            // Without npm the target is not run, which a build server counts as a failure.
        }

        return folder;
    }
}
