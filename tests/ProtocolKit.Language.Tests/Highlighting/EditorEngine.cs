using System.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Highlighting;

/// <summary>The engine with which an editor colours text (npm's vscode-textmate), on grammar/protocol.tmLanguage.json.</summary>
internal sealed class EditorEngine : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("protocolkit-highlighting-");

    public EditorEngine()
    {
        foreach (var name in new[] { "package.json", "package-lock.json", "scopes.cjs" })
        {
            File.Copy(
                Repository.PathOf("tests", "ProtocolKit.Language.Tests", "Highlighting", name),
                Path.Combine(_folder.FullName, name)
            );
        }

        Run("npm", ["ci", "--no-audit", "--no-fund", "--ignore-scripts"], "");
    }

    /// <summary>The pieces of each line with their scopes, the innermost last.</summary>
    public IReadOnlyList<(string Text, string Scopes)[]> Scopes(string text) =>
        [
            .. Run("node", ["scopes.cjs", Repository.PathOf("grammar", "protocol.tmLanguage.json")], text)
                .TrimEnd('\n')
                .Split("\n\n")
                .Select(line => line.Split('\n', StringSplitOptions.RemoveEmptyEntries))
                .Select(line => line.Select(p => p.Split('\t')).Select(p => (p[0], p[1])).ToArray()),
        ];

    public void Dispose() => _folder.Delete(recursive: true);

    private string Run(string program, string[] arguments, string input)
    {
        var isShell = OperatingSystem.IsWindows() && program == "npm";
        var start = new ProcessStartInfo(isShell ? "npm.cmd" : program, arguments)
        {
            WorkingDirectory = _folder.FullName,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var process = Process.Start(start)!;
        var output = process.StandardOutput.ReadToEndAsync();
        var messages = process.StandardError.ReadToEndAsync();
        process.StandardInput.Write(input);
        process.StandardInput.Close();
        Assert.True(process.WaitForExit(Patience), $"{program} did not come to its end.");
        Assert.True(process.ExitCode == 0, $"{program} failed:\n{messages.Result}");
        return output.Result;
    }
}
