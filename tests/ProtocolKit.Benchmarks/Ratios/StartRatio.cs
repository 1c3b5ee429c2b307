using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;

namespace ProtocolKit.Benchmarks.Ratios;

/// <summary>
/// <c>check</c> of the example as a whole process beside a process that prints one line, both published ReadyToRun.
/// </summary>
internal static class StartRatio
{
    public const double Target = 8.0;

    private const string Example = "library/quillmere/quillmere-screen.protocol";

    private const string HelloProject = """
        <Project Sdk="Microsoft.NET.Sdk">
          <PropertyGroup>
            <OutputType>Exe</OutputType>
            <TargetFramework>net10.0</TargetFramework>
            <InvariantGlobalization>true</InvariantGlobalization>
          </PropertyGroup>
        </Project>
        """;

    /// <summary>Prints the table; gives whether the target is met.</summary>
    public static bool Print(TextWriter output, int runs)
    {
        var root = Root();
        var work = Directory.CreateTempSubdirectory("protocolkit-benchmark-").FullName;
        try
        {
            var hello = Path.Combine(work, "hello");
            Directory.CreateDirectory(hello);
            File.WriteAllText(Path.Combine(hello, "hello.csproj"), HelloProject);
            File.WriteAllText(Path.Combine(hello, "Program.cs"), "System.Console.WriteLine(\"Hello.\");\n");
            var ours = Publish(Path.Combine(root, "src", "ProtocolKit.Cli"), Path.Combine(work, "ours"));
            var theirs = Publish(hello, Path.Combine(work, "theirs"));
            var check = Path.Combine(ours, Executable("protocolkit"));
            var greet = Path.Combine(theirs, Executable("hello"));
            var (first, second, ratio) = Median.InTurn(
                () => Run(check, root, "check", Example),
                () => Run(greet, root),
                runs,
                warmUps: 3
            );
            var format = CultureInfo.InvariantCulture;
            output.WriteLine("start: whole processes, published ReadyToRun");
            output.WriteLine(string.Create(format, $"  check of the example  {first, 8:F0} ms"));
            output.WriteLine(string.Create(format, $"  one line printed      {second, 8:F0} ms"));
            output.WriteLine(
                string.Create(
                    format,
                    $"  ratio {ratio:F2} (at most {Target:F1}), medians of {runs} runs in turn"
                )
            );
            return ratio <= Target;
        }
        finally
        {
            Directory.Delete(work, recursive: true);
        }
    }

    private static string Publish(string project, string to)
    {
        Run(
            "dotnet",
            project,
            [
                .. new[] { "publish", "-c", "Release", "-r", RuntimeInformation.RuntimeIdentifier },
                .. new[] { "--self-contained", "false", "-p:PublishReadyToRun=true" },
                .. new[] { "-o", to, "--nologo", "-v", "quiet" },
            ]
        );
        return to;
    }

    private static void Run(string program, string folder, params IReadOnlyList<string> arguments)
    {
        var start = new ProcessStartInfo(program, [.. arguments])
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        using var process =
            Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start.");
        var printed = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} failed:\n{printed}");
        }
    }

    private static string Executable(string name) => OperatingSystem.IsWindows() ? name + ".exe" : name;

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ProtocolKit.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName
            ?? throw new InvalidOperationException("The benchmarks run inside a checkout.");
    }
}
