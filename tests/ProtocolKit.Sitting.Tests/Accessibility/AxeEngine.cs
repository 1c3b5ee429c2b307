using System.Diagnostics;
using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests.Accessibility;

/// <summary>
/// npm's axe-core, which holds a page against the rules of WCAG that a program can judge. Source: W3C, Web Content
/// Accessibility Guidelines 2.2, levels A and AA. Used by tests only: it is under MPL-2.0.
/// </summary>
public sealed class AxeEngine : IDisposable
{
    private const string Run = """
        async () => {
          const result = await axe.run(document, {
            runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"],
            resultTypes: ["violations"],
          });
          return result.violations.map((v) =>
            `${v.id}: ${v.help}: ` + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160) + " " + n.failureSummary).join(" | "));
        }
        """;

    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("protocolkit-axe-");
    private readonly Lazy<string> _script;

    public AxeEngine() => _script = new(Install);

    /// <summary>What violates a rule, one text for each rule.</summary>
    public async Task<IReadOnlyList<string>> ViolationsAsync(IPage page)
    {
        if (!await page.EvaluateAsync<bool>("() => 'axe' in globalThis"))
        {
            await page.EvaluateAsync(_script.Value);
        }

        return await page.EvaluateAsync<string[]>(Run);
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private string Install()
    {
        foreach (var name in new[] { "package.json", "package-lock.json" })
        {
            File.Copy(
                Checkout.PathOf("tests", "ProtocolKit.Sitting.Tests", "Accessibility", name),
                Path.Combine(_folder.FullName, name)
            );
        }

        var start = new ProcessStartInfo(
            OperatingSystem.IsWindows() ? "npm.cmd" : "npm",
            ["ci", "--no-audit", "--no-fund", "--ignore-scripts"]
        )
        {
            WorkingDirectory = _folder.FullName,
            RedirectStandardError = true,
            RedirectStandardOutput = true,
        };
        using var npm = Process.Start(start)!;
        var messages = npm.StandardError.ReadToEndAsync();
        _ = npm.StandardOutput.ReadToEndAsync();
        Assert.True(npm.WaitForExit(Patience), "npm did not come to its end.");
        Assert.True(npm.ExitCode == 0, $"npm failed:\n{messages.Result}");
        return File.ReadAllText(Path.Combine(_folder.FullName, "node_modules", "axe-core", "axe.min.js"));
    }
}
